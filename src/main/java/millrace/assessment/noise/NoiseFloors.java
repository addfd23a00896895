// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.noise;

import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.reduction.PooledNoise;
import millrace.analysis.reduction.PooledNoise.Floor;
import millrace.analysis.series.AllanDeviation;
import millrace.analysis.series.AllanDeviation.Level;
import millrace.assessment.tally.PointReadingTally;
import millrace.assessment.tally.RunReadingTallies;
import millrace.assessment.tally.TemperatureStayNumbers;
import millrace.assessment.tally.TimeSeriesColumns;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.quantity.TimeSpanSeconds;

/**
 * Lower bounds of the pooled noise of currents (methods.md 2.1): scatter between repeats of the
 * same point within a stay, and flicker noise if a record over time measured it.
 */
final class NoiseFloors {
  private final TemperatureStayNumbers stays;
  private final RepeatedPoints repeats = new RepeatedPoints();
  private final Map<String, Floor> flicker = new HashMap<>();

  NoiseFloors(RunReadingTallies tallies) {
    stays = new TemperatureStayNumbers(tallies.points());
    double pointS = 0;
    for (PointReadingTally tally : tallies.points(PointKind.MEASURE)) {
      pointS = Math.max(pointS, spanS(tally));
    }
    for (TimeSeriesColumns record : tallies.records()) {
      if (record.point().kind() == PointKind.TIME_SERIES) {
        record(record, pointS);
      }
    }
  }

  private static double spanS(PointReadingTally tally) {
    return TimeSpanSeconds.seconds(tally.point().ended().minus(tally.point().started()));
  }

  private static String range(Point point) {
    return point.conditions().range().orElse("") + ", " + point.settings().currentMeter().range();
  }

  private void record(TimeSeriesColumns record, double pointS) {
    double nominal = Math.abs(record.point().conditions().nominalA().orElse(0));
    if (nominal == 0) {
      return;
    }
    Optional<Level> floor = AllanDeviation.of(record.record(), nominal).floor(pointS);
    floor.ifPresent(
        level ->
            flicker.merge(
                range(record.point()),
                new Floor(
                    level.deviationPpm() * 1e-6 * nominal,
                    OptionalDouble.of(level.degreesOfFreedom()),
                    "flicker noise"),
                (a, b) -> a.u() < b.u() ? a : b));
  }

  /**
   * Adds a point that may be repeated.
   *
   * @param key of its pool
   * @param tally its readings
   * @param noise of the pool from its readings alone
   */
  void add(String key, PointReadingTally tally, PooledNoise noise) {
    if (tally.point().kind() == PointKind.MEASURE) {
      repeats.add(key, stays.of(tally.point()), tally, noise);
    }
  }

  /** The same noise, raised to its lower bounds. */
  PooledNoise under(String key, PooledNoise noise, Point any) {
    PooledNoise floored = repeats.under(key, noise);
    Floor slow = flicker.get(range(any));
    return slow == null ? floored : floored.noLessThan(slow);
  }
}
