// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.noise;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.analysis.reduction.PooledNoise;
import millrace.analysis.reduction.ReadingStatistics;
import millrace.assessment.tally.PointReadingTally;
import millrace.assessment.tally.RunReadingTallies;
import millrace.assessment.tally.TemperatureStayNumbers;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;

/**
 * Noise pooled over the points that share unit range, meter range and integration time (methods.md
 * 2.1).
 */
public final class NoisePools {
  private static final PooledNoise UNKNOWN = PooledNoise.of("no readings", List.of(), 0);

  private final Map<String, PooledNoise> pools = new HashMap<>();

  /**
   * The noise of one run.
   *
   * @param all its readings
   * @param slow joint noise estimate of its readings
   */
  public NoisePools(RunReadingTallies all, ReadingNoise slow) {
    List<PointReadingTally> tallies = all.points();
    Map<String, List<ReadingStatistics>> members = new HashMap<>();
    Map<String, Double> resolutions = new HashMap<>();
    for (PointReadingTally tally : tallies) {
      boolean overTime =
          tally.point().kind() == PointKind.SOAK || tally.point().kind() == PointKind.TIME_SERIES;
      if (!overTime) {
        tally
            .signals()
            .forEach(
                (signal, statistics) -> {
                  String key = key(tally.point(), signal);
                  members.computeIfAbsent(key, k -> new ArrayList<>()).add(statistics);
                  resolutions.put(key, tally.point().meter(signal).resolution().orElse(0));
                });
      }
    }
    members.forEach((key, m) -> pools.put(key, PooledNoise.of(key, m, resolutions.get(key))));
    floors(all);
    behind(all, slow);
  }

  /** The uncertainty of currents is at least that of their repeats and slow noise. */
  private void floors(RunReadingTallies all) {
    NoiseFloors floors = new NoiseFloors(all);
    Map<String, Point> measured = new LinkedHashMap<>();
    for (PointReadingTally tally : all.points(PointKind.MEASURE)) {
      String key = key(tally.point(), MeasuredSignal.CURRENT);
      measured.putIfAbsent(key, tally.point());
      floors.add(key, tally, pools.getOrDefault(key, UNKNOWN));
    }
    measured.forEach(
        (key, point) -> pools.computeIfPresent(key, (k, p) -> floors.under(k, p, point)));
  }

  /** The joint estimate of readings of one kind supports the noise of their points. */
  private void behind(RunReadingTallies all, ReadingNoise slow) {
    Map<String, List<PointReadingTally>> measured = new LinkedHashMap<>();
    for (PointReadingTally tally : all.points(PointKind.MEASURE)) {
      measured
          .computeIfAbsent(key(tally.point(), MeasuredSignal.CURRENT), k -> new ArrayList<>())
          .add(tally);
    }
    TemperatureStayNumbers stays = new TemperatureStayNumbers(all.points());
    measured.forEach(
        (key, members) ->
            pools.computeIfPresent(key, (k, pool) -> slow.behind(pool, members, stays::of)));
  }

  /**
   * The noise of the pool that readings belong to.
   *
   * @param point their point
   * @param signal the signal
   * @return the noise; without degrees of freedom if there is no such pool
   */
  public PooledNoise of(Point point, MeasuredSignal signal) {
    return pools.getOrDefault(key(point, signal), UNKNOWN);
  }

  /** Readings with exchanged leads share the meter and its settings, and so the pool. */
  private static String key(Point point, MeasuredSignal either) {
    MeasuredSignal signal = either.forward();
    String range = signal == MeasuredSignal.CURRENT ? point.conditions().range().orElse("") : "";
    boolean zero = point.kind() == PointKind.ZERO;
    return "%s%s, meter range %s, %s line cycles"
        .formatted(
            zero ? "zero of " : "",
            range.isEmpty() ? signal.text() : range,
            point.meter(signal).range(),
            point.meter(signal).cycles());
  }
}
