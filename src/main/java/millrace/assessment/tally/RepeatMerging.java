// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.tally;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import millrace.assessment.tally.PointReadingTally.StatedErrors;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.PointConditions;
import millrace.fault.NotAnalysableException;

/**
 * Merges repeats of one point if a file has far more points than a study needs. A number of
 * consecutive points under equal conditions become one with their mean time, so that drift and
 * sweep stay visible (as methods.md 6.3 does with long records). If that leaves too many, visits to
 * one temperature are merged too. Points come one by one and are not kept. Single-threaded.
 */
final class RepeatMerging {
  /** Above this number of points repeats are merged. */
  static final int MANY = 20_000;

  /** Above this number of blocks or changes of temperature visits are merged too. */
  private static final int MOST_BLOCKS = 3 * MANY;

  private static final int MOST_MOVES = 400;

  /** Largest spread of temperatures of repeats, K. */
  private static final double SAME_K = 0.25;

  /** Least change that counts as another temperature, K. */
  private static final double MOVED_K = 1;

  /** Voltages of repeats without a load lie within this share of the largest. */
  private static final double SAME_VOLTAGE = 1.0 / 1024;

  private final long points;
  private int most;
  private boolean acrossVisits;
  private int moves;
  private double lastDegC = Double.NaN;
  private double largestV;
  private Map<List<Object>, RepeatedPointBlock> open = new HashMap<>();
  private List<RepeatedPointBlock> blocks = new ArrayList<>();

  /**
   * Made for a run.
   *
   * @param points how many points will come
   */
  RepeatMerging(long points) {
    this.points = points;
    this.most = (int) Math.max(1, (points + MANY - 1) / MANY);
  }

  /** Adds the next point, in the order of measurement. */
  void add(PointReadingTally point) {
    watch(point);
    add(new RepeatedPointBlock(point));
    boolean restless = !acrossVisits && moves > MOST_MOVES && points > MANY;
    if (restless || blocks.size() > MOST_BLOCKS) {
      coarser();
    }
  }

  private void watch(PointReadingTally point) {
    double degC = degC(point).orElse(0);
    moves += Math.abs(degC - lastDegC) > MOVED_K ? 1 : 0;
    lastDegC = degC;
    largestV = Math.max(largestV, Math.abs(point.mean(MeasuredSignal.VOLTAGE).orElse(0)));
  }

  private void add(RepeatedPointBlock next) {
    if (most == 1) {
      blocks.add(next);
      return;
    }
    List<Object> key = key(next.first());
    RepeatedPointBlock block = open.get(key);
    if (block == null
        || block.count() + next.count() > most
        || !near(block.first(), next.first())) {
      open.put(key, next);
      blocks.add(next);
    } else {
      block.add(next);
    }
  }

  /** Merges the present blocks into larger ones. */
  private void coarser() {
    most *= acrossVisits ? 4 : 1;
    acrossVisits = true;
    List<RepeatedPointBlock> before = blocks;
    blocks = new ArrayList<>();
    open = new HashMap<>();
    before.forEach(this::add);
    if (blocks.size() > MOST_BLOCKS && most > points) {
      throw new NotAnalysableException(
          "more than %s points under different conditions are too many to analyse together."
                  .formatted(MOST_BLOCKS)
              + " Import fewer ranges or loads at a time, or round temperatures and voltages.");
    }
  }

  private List<Object> key(PointReadingTally t) {
    PointConditions c = t.point().conditions();
    StatedErrors stated = t.stated().get(MeasuredSignal.CURRENT);
    return List.of(
        t.signals().containsKey(MeasuredSignal.CURRENT),
        c.range(),
        c.loadOhm(),
        c.loadOhm().isPresent() ? 0L : voltage(t),
        acrossVisits ? Math.round(degC(t).orElse(0) / (2 * SAME_K)) : 0L,
        List.of(c.direction(), c.supplyV(), c.setA()),
        stated == null ? "" : stated.group() + "\u0000" + stated.meterRange());
  }

  /** Rounds in steps proportional to the largest voltage so far. */
  private long voltage(PointReadingTally t) {
    double step = Math.max(Double.MIN_NORMAL, Math.scalb(SAME_VOLTAGE, Math.getExponent(largestV)));
    return Math.round(t.mean(MeasuredSignal.VOLTAGE).orElse(0) / step);
  }

  private boolean near(PointReadingTally a, PointReadingTally b) {
    OptionalDouble x = degC(a);
    OptionalDouble y = degC(b);
    boolean same = x.isPresent() == y.isPresent() && Math.abs(x.orElse(0) - y.orElse(0)) <= SAME_K;
    return acrossVisits || same;
  }

  private static OptionalDouble degC(PointReadingTally t) {
    OptionalDouble read = t.mean(MeasuredSignal.UNIT_TEMPERATURE);
    return read.isPresent() ? read : t.point().conditions().temperatureDegC();
  }

  /** The merged points, in the order of each block's first point. */
  List<PointReadingTally> points() {
    return blocks.stream().map(RepeatedPointBlock::together).toList();
  }

  /** A note on the merging; empty if no points were merged. */
  List<String> notes() {
    if (blocks.size() >= points) {
      return List.of();
    }
    String visits = acrossVisits ? ", those of several visits to a temperature too" : "";
    return List.of(
        "%s points: up to %s repeats under equal conditions are taken together as one%s"
            .formatted(points, most, visits));
  }
}
