// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.noise;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.analysis.reduction.PooledNoise;
import millrace.analysis.reduction.ReadingStatistics;
import millrace.analysis.reduction.Repeatability;
import millrace.analysis.reduction.Repeatability.Repeat;
import millrace.assessment.tally.PointReadingTally;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.PointConditions;

/**
 * Points that were taken again under the same conditions within a stay, and the noise of their pool
 * from the scatter between them (methods.md 2.1). Single-threaded.
 */
public final class RepeatedPoints {
  private final Map<String, Map<Integer, Map<List<Object>, List<Repeat>>>> found = new HashMap<>();

  /**
   * Adds a point that may be repeated.
   *
   * @param key of its pool
   * @param stay which stay at a temperature it belongs to
   * @param tally its readings
   * @param noise of the pool from its readings alone
   */
  public void add(String key, int stay, PointReadingTally tally, PooledNoise noise) {
    Optional<ReadingStatistics> read = tally.of(MeasuredSignal.CURRENT);
    if (read.isEmpty() || noise.unsteady(read.get())) {
      return;
    }
    PointConditions c = tally.point().conditions();
    double value = read.get().mean() - tally.zero().orElse(0);
    found
        .computeIfAbsent(key, k -> new LinkedHashMap<>())
        .computeIfAbsent(stay, s -> new LinkedHashMap<>())
        .computeIfAbsent(
            List.of(c.loadOhm(), c.terminalVoltageV(), c.supplyV(), c.setA()),
            p -> new ArrayList<>())
        .add(new Repeat(tally.timeS(), value, noise.meanUncertainty(read.get().n())));
  }

  /** The same noise, not below the scatter between repeats. */
  public PooledNoise under(String key, PooledNoise noise) {
    List<List<List<Repeat>>> points = new ArrayList<>();
    found.getOrDefault(key, Map.of()).values().forEach(s -> points.add(List.copyOf(s.values())));
    return Repeatability.floor(points, noise.degreesOfFreedom())
        .map(noise::noLessThan)
        .orElse(noise);
  }
}
