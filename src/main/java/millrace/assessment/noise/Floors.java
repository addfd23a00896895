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
import millrace.analysis.series.TimeSeries;
import millrace.assessment.tally.MeterSettings;
import millrace.assessment.tally.PointTally;
import millrace.assessment.tally.SeriesColumns;
import millrace.assessment.tally.StayNumbers;
import millrace.assessment.tally.Tallies;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.Signal;
import millrace.quantity.Spans;

/**
 * What the pooled noise of currents must not fall below (methods.md 2.1): scatter between repeats
 * of the same point within a stay, and flicker noise where it was measured in a record over time.
 */
final class Floors {
  private final StayNumbers stays;
  private final Repetitions repeats = new Repetitions();
  private final Map<String, Floor> flicker = new HashMap<>();

  Floors(Tallies tallies) {
    stays = new StayNumbers(tallies.points());
    double pointS = 0;
    for (PointTally tally : tallies.points(PointKind.MEASURE)) {
      pointS = Math.max(pointS, spanS(tally));
    }
    for (SeriesColumns record : tallies.records()) {
      if (record.point().kind() == PointKind.TIME_SERIES) {
        record(record, pointS);
      }
    }
  }

  private static double spanS(PointTally tally) {
    return Spans.seconds(tally.point().ended().minus(tally.point().started()));
  }

  private static String range(Point point) {
    return point.conditions().range().orElse("")
        + ", "
        + MeterSettings.range(point, Signal.CURRENT);
  }

  private void record(SeriesColumns record, double pointS) {
    double nominal = Math.abs(record.point().conditions().nominalA().orElse(0));
    if (nominal == 0) {
      return;
    }
    TimeSeries series = TimeSeries.of(record.timeS(Signal.CURRENT), record.values(Signal.CURRENT));
    Optional<Level> floor = AllanDeviation.of(series, nominal).floor(pointS);
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
   * Takes up a point that may be repeated.
   *
   * @param key of its pool
   * @param tally its readings
   * @param noise of the pool as its readings alone tell it
   */
  void add(String key, PointTally tally, PooledNoise noise) {
    if (tally.point().kind() == PointKind.MEASURE) {
      repeats.add(key, stays.of(tally.point()), tally, noise);
    }
  }

  /** The same noise with what it must not fall below. */
  PooledNoise under(String key, PooledNoise noise, Point any) {
    PooledNoise floored = repeats.under(key, noise);
    Floor slow = flicker.get(range(any));
    return slow == null ? floored : floored.noLessThan(slow);
  }
}
