package millrace.assessment;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.reduction.ReadingStatistics;
import millrace.assessment.PointTally.StatedErrors;
import millrace.evidence.Conditions;
import millrace.evidence.Signal;

/**
 * Takes repeats of one point together where a file holds far more points than a study needs: so
 * many that follow one another under equal conditions become one, with their mean time, so that
 * drift and sweep stay visible (as measurement.md 6.3 does with long records).
 */
final class Repeats {
  /** Beyond this many points repeats are taken together. */
  static final int MANY = 20_000;

  /** How far temperatures of repeats may lie apart, K. */
  private static final double SAME_K = 0.25;

  private final int most;
  private final Map<List<Object>, List<PointTally>> open = new HashMap<>();
  private final List<List<PointTally>> blocks = new ArrayList<>();

  private Repeats(int most) {
    this.most = most;
  }

  /**
   * The points, repeats together where there are more than {@link #MANY}.
   *
   * @param points in the order of taking
   * @param notes grows by what a reader must know
   */
  static List<PointTally> together(List<PointTally> points, List<String> notes) {
    if (points.size() <= MANY) {
      return points;
    }
    Repeats repeats = new Repeats((points.size() + MANY - 1) / MANY);
    points.forEach(repeats::add);
    if (repeats.blocks.size() < points.size()) {
      notes.add(
          "%d points: up to %d repeats under equal conditions are taken together as one"
              .formatted(points.size(), repeats.most));
    }
    return repeats.blocks.stream().map(Repeats::one).toList();
  }

  private void add(PointTally point) {
    List<Object> key = key(point);
    List<PointTally> block = open.get(key);
    if (block == null || block.size() == most || !near(block.get(0), point)) {
      block = new ArrayList<>();
      open.put(key, block);
      blocks.add(block);
    }
    block.add(point);
  }

  private static List<Object> key(PointTally t) {
    Conditions c = t.point().conditions();
    StatedErrors stated = t.stated().get(Signal.CURRENT);
    return List.of(
        t.signals().containsKey(Signal.CURRENT),
        c.range(),
        c.loadOhm(),
        c.loadOhm().isPresent() ? OptionalDouble.empty() : t.mean(Signal.VOLTAGE),
        c.direction(),
        c.supplyV(),
        c.setA(),
        stated == null ? "" : stated.group() + "\u0000" + stated.meterRange());
  }

  private static boolean near(PointTally a, PointTally b) {
    OptionalDouble x = degC(a);
    OptionalDouble y = degC(b);
    return x.isPresent() == y.isPresent() && Math.abs(x.orElse(0) - y.orElse(0)) <= SAME_K;
  }

  private static OptionalDouble degC(PointTally t) {
    OptionalDouble read = t.mean(Signal.UNIT_TEMPERATURE);
    return read.isPresent() ? read : t.point().conditions().temperatureDegC();
  }

  private static PointTally one(List<PointTally> block) {
    PointTally first = block.get(0);
    if (block.size() == 1) {
      return first;
    }
    return new PointTally(
        first.point(),
        statistics(block.stream().map(PointTally::signals).toList()),
        statistics(block.stream().map(PointTally::withSuspects).toList()),
        first.zero(),
        stated(block),
        block.stream().mapToDouble(PointTally::timeS).average().orElse(0));
  }

  private static Map<Signal, ReadingStatistics> statistics(
      List<Map<Signal, ReadingStatistics>> parts) {
    Map<Signal, List<ReadingStatistics>> bySignal = new EnumMap<>(Signal.class);
    for (Map<Signal, ReadingStatistics> part : parts) {
      part.forEach((s, r) -> bySignal.computeIfAbsent(s, k -> new ArrayList<>()).add(r));
    }
    Map<Signal, ReadingStatistics> all = new EnumMap<>(Signal.class);
    bySignal.forEach((s, list) -> all.put(s, ReadingStatistics.together(list)));
    return all;
  }

  /** What the points state of a mean of theirs: point-wise errors average, common ones stay. */
  private static Map<Signal, StatedErrors> stated(List<PointTally> block) {
    Map<Signal, StatedErrors> all = new EnumMap<>(Signal.class);
    for (Signal signal : block.get(0).stated().keySet()) {
      List<StatedErrors> each =
          block.stream()
              .flatMap(t -> Optional.ofNullable(t.stated().get(signal)).stream())
              .toList();
      boolean known = each.size() == block.size() && each.stream().allMatch(e -> e.u().isPresent());
      double squares = each.stream().mapToDouble(e -> Math.pow(e.u().orElse(0), 2)).sum();
      all.put(
          signal,
          new StatedErrors(
              known ? OptionalDouble.of(Math.sqrt(squares) / block.size()) : OptionalDouble.empty(),
              each.stream().mapToDouble(StatedErrors::common).max().orElse(0),
              each.stream().mapToDouble(StatedErrors::commonRelative).max().orElse(0),
              each.get(0).group(),
              each.get(0).meterRange()));
    }
    return all;
  }
}
