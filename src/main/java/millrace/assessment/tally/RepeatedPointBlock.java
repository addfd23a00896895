// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.tally;

import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import millrace.analysis.reduction.ReadingStatistics;
import millrace.assessment.tally.PointReadingTally.StatedErrors;
import millrace.evidence.MeasuredSignal;

/**
 * Repeats of one point that count as one: their readings form one set, point-wise errors average,
 * common errors stay, and the time is their mean. Single-threaded while it grows.
 */
final class RepeatedPointBlock {
  private final PointReadingTally first;
  private int count = 1;
  private Map<MeasuredSignal, ReadingStatistics> signals;
  private Map<MeasuredSignal, ReadingStatistics> withSuspects;
  private final Map<MeasuredSignal, Sums> stated = new EnumMap<>(MeasuredSignal.class);
  private double timesS;

  /** Sums of the stated errors of one signal: the squares include only points with a known u. */
  private record Sums(int known, double squares, double common, double commonRelative) {
    static Sums of(StatedErrors e) {
      double u = e.u().orElse(0);
      return new Sums(e.u().isPresent() ? 1 : 0, u * u, e.common(), e.commonRelative());
    }

    Sums with(Sums other) {
      return new Sums(
          known + other.known,
          squares + other.squares,
          Math.max(common, other.common),
          Math.max(commonRelative, other.commonRelative));
    }
  }

  /** A block of one. */
  RepeatedPointBlock(PointReadingTally point) {
    this.first = point;
    this.signals = point.signals();
    this.withSuspects = point.withSuspects();
    point.stated().forEach((signal, errors) -> stated.put(signal, Sums.of(errors)));
    this.timesS = point.timeS();
  }

  PointReadingTally first() {
    return first;
  }

  int count() {
    return count;
  }

  /** Adds the points of another block. */
  void add(RepeatedPointBlock other) {
    count += other.count;
    signals = joined(signals, other.signals);
    withSuspects = joined(withSuspects, other.withSuspects);
    other.stated.forEach((signal, sums) -> stated.merge(signal, sums, Sums::with));
    timesS += other.timesS;
  }

  private static Map<MeasuredSignal, ReadingStatistics> joined(
      Map<MeasuredSignal, ReadingStatistics> a, Map<MeasuredSignal, ReadingStatistics> b) {
    Map<MeasuredSignal, ReadingStatistics> all = new HashMap<>(a);
    b.forEach((s, r) -> all.merge(s, r, (x, y) -> ReadingStatistics.together(List.of(x, y))));
    return all;
  }

  /** The points as one. */
  PointReadingTally together() {
    if (count == 1) {
      return first;
    }
    Map<MeasuredSignal, StatedErrors> errors = new EnumMap<>(MeasuredSignal.class);
    first.stated().forEach((signal, e) -> errors.put(signal, mean(e, stated.get(signal))));
    return new PointReadingTally(
        first.point(), signals, withSuspects, first.zero(), errors, timesS / count);
  }

  private StatedErrors mean(StatedErrors of, Sums sums) {
    OptionalDouble u =
        sums.known == count
            ? OptionalDouble.of(Math.sqrt(sums.squares) / count)
            : OptionalDouble.empty();
    return new StatedErrors(
        u, of.shape().ofMean(), sums.common, sums.commonRelative, of.group(), of.meterRange());
  }
}
