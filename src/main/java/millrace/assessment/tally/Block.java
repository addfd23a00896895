// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.tally;

import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import millrace.analysis.reduction.ReadingStatistics;
import millrace.assessment.tally.PointTally.StatedErrors;
import millrace.evidence.Signal;

/**
 * Repeats of one point that count as one: their readings are one set, point-wise errors average,
 * common ones stay, and the time is their mean. Single-threaded while it grows.
 */
final class Block {
  private final PointTally first;
  private int count = 1;
  private Map<Signal, ReadingStatistics> signals;
  private Map<Signal, ReadingStatistics> withSuspects;
  private final Map<Signal, Sums> stated = new EnumMap<>(Signal.class);
  private double timesS;

  /** Sums over what the points state of one signal: the squares are of those with a known u. */
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
  Block(PointTally point) {
    this.first = point;
    this.signals = point.signals();
    this.withSuspects = point.withSuspects();
    point.stated().forEach((signal, errors) -> stated.put(signal, Sums.of(errors)));
    this.timesS = point.timeS();
  }

  PointTally first() {
    return first;
  }

  int count() {
    return count;
  }

  /** Takes in the points of another. */
  void add(Block other) {
    count += other.count;
    signals = joined(signals, other.signals);
    withSuspects = joined(withSuspects, other.withSuspects);
    other.stated.forEach((signal, sums) -> stated.merge(signal, sums, Sums::with));
    timesS += other.timesS;
  }

  private static Map<Signal, ReadingStatistics> joined(
      Map<Signal, ReadingStatistics> a, Map<Signal, ReadingStatistics> b) {
    Map<Signal, ReadingStatistics> all = new HashMap<>(a);
    b.forEach((s, r) -> all.merge(s, r, (x, y) -> ReadingStatistics.together(List.of(x, y))));
    return all;
  }

  /** The points as one. */
  PointTally together() {
    if (count == 1) {
      return first;
    }
    Map<Signal, StatedErrors> errors = new EnumMap<>(Signal.class);
    first.stated().forEach((signal, e) -> errors.put(signal, mean(e, stated.get(signal))));
    return new PointTally(
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
