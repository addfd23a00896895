// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.noise;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.TreeMap;
import millrace.analysis.reduction.ReadingStatistics;
import millrace.analysis.uncertainty.Quantiles;
import millrace.assessment.tally.PointReadingTally;
import millrace.evidence.MeasuredSignal;

/**
 * What the noise of zeros makes of the readings that they are taken off (methods.md 5.10). A zero
 * has a row of its own in the budget: where zeros differ by no more than their readings scatter,
 * that is not to be found in the readings a second time. What they differ by beyond it is a drift
 * of the meter, and stays taken off. Immutable.
 */
final class ZeroScatter {
  private static final double ROUNDING = 12;
  private static final double BOUND = 0.999;

  private final NavigableMap<Long, PointReadingTally> taken;
  private final double mean;
  private final double noiseShare;

  private ZeroScatter(NavigableMap<Long, PointReadingTally> taken, double mean, double noiseShare) {
    this.taken = taken;
    this.mean = mean;
    this.noiseShare = noiseShare;
  }

  /**
   * The scatter of the zeros of points.
   *
   * @param zeros the zeros of the run
   * @param points of one range of the meter
   */
  static ZeroScatter of(Collection<PointReadingTally> zeros, Collection<PointReadingTally> points) {
    TreeMap<Long, PointReadingTally> taken = new TreeMap<>();
    String meter = points.stream().map(ZeroScatter::meterRange).findFirst().orElse("");
    zeros.stream()
        .filter(z -> meterRange(z).equals(meter))
        .forEach(z -> taken.put(z.point().id(), z));
    Map<Long, Double> used = new LinkedHashMap<>();
    for (PointReadingTally p : points) {
      Map.Entry<Long, PointReadingTally> zero = taken.lowerEntry(p.point().id());
      if (zero != null && p.zero().isPresent()) {
        used.put(zero.getKey(), p.zero().getAsDouble());
      }
    }
    double mean = used.values().stream().mapToDouble(z -> z).average().orElse(0);
    double squares = used.values().stream().mapToDouble(z -> (z - mean) * (z - mean)).sum();
    double noise = ofNoise(used.keySet().stream().map(taken::get).toList());
    return new ZeroScatter(taken, mean, noiseShare(squares, noise, used.size() - 1));
  }

  /** All of it, where chance makes zeros differ as much in one of a thousand runs. */
  private static double noiseShare(double squares, double noise, int free) {
    boolean chance = free < 1 || squares <= noise * Quantiles.chiSquared(BOUND, free);
    return chance ? 1 : noise * free / squares;
  }

  private static String meterRange(PointReadingTally p) {
    return p.point().settings().currentMeter().range();
  }

  /** The variance of a zero by the scatter of its readings, pooled, and by their resolution. */
  private static double ofNoise(List<PointReadingTally> zeros) {
    List<ReadingStatistics> readings = new ArrayList<>();
    zeros.forEach(z -> z.of(MeasuredSignal.CURRENT).ifPresent(readings::add));
    double squares = readings.stream().mapToDouble(ReadingStatistics::sumOfSquares).sum();
    double free = readings.stream().mapToDouble(r -> r.n() - 1.0).sum();
    double perZero = readings.stream().mapToDouble(r -> 1.0 / r.n()).average().orElse(0);
    double step =
        zeros.stream()
            .mapToDouble(z -> z.point().meter(MeasuredSignal.CURRENT).resolution().orElse(0))
            .max()
            .orElse(0);
    double scatter = free > 0 ? squares / free * perZero : 0;
    return Math.max(scatter, step * step / ROUNDING);
  }

  /**
   * By how much a reading is too small for the noise of its zero.
   *
   * @param point the point that it belongs to
   * @return in the unit of the readings; 0 for a point without a zero
   */
  double of(PointReadingTally point) {
    boolean zeroed =
        point.zero().isPresent()
            && Optional.ofNullable(taken.lowerEntry(point.point().id())).isPresent();
    return zeroed ? noiseShare * (point.zero().getAsDouble() - mean) : 0;
  }
}
