// SPDX-License-Identifier: Apache-2.0
package millrace.planning.adaptive;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.datasheet.Datasheet;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;
import millrace.quantity.TimeSpanSeconds;
import millrace.sequence.BenchSpeeds;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.PointRepetition;
import millrace.sequence.Schedule;

/**
 * Spends the time that is left of the planned time of a run (methods.md 12): at the next stay, a
 * range whose U would end above the largest U that decides has its loads measured up to three times
 * more. Ranks the effect of more points by a linear model: the part of u^2 that comes from single
 * points falls with their number, the rest stays. Immutable.
 */
final class FreedTime {
  private static final int MOST_PASSES = 3;

  private final RunStanding at;
  private final Datasheet datasheet;
  private final BenchSpeeds speeds;

  FreedTime(RunStanding at, Datasheet datasheet, BenchSpeeds speeds) {
    this.at = at;
    this.datasheet = datasheet;
    this.speeds = speeds;
  }

  /** The points to measure again; a point occurs in the list once per repetition. */
  List<PlanRevision> spent(List<LimitStanding> standing) {
    Optional<List<PlannedPoint>> next =
        PlannedStays.toGo(at.plan(), at.toGo()).values().stream().findFirst();
    if (next.isEmpty()) {
      return List.of();
    }
    List<LimitStanding> wanting =
        standing.stream()
            .filter(s -> !s.decided() && s.share().orElse(0) > 1)
            .sorted(
                Comparator.comparingDouble((LimitStanding s) -> s.share().getAsDouble()).reversed())
            .toList();
    List<PlanRevision> all = new ArrayList<>();
    Set<String> done = new HashSet<>();
    Plan plan = at.plan();
    for (LimitStanding limit : wanting) {
      Optional<String> range = limit.worst().orElseThrow().result().range().filter(done::add);
      List<PlannedPoint> loads = range.map(r -> loads(next.get(), r)).orElse(List.of());
      int passes = loads.isEmpty() ? 0 : passes(limit, range.orElseThrow(), loads.size());
      for (int pass = 0; pass < passes; pass++) {
        Plan more = PointRepetition.to(plan, keys(loads));
        if (at.elapsedS() + leftS(more) > at.boundS()) {
          break;
        }
        plan = more;
        all.add(revision(limit, range.orElseThrow(), loads));
      }
    }
    return all;
  }

  private static List<PlannedPoint> loads(List<PlannedPoint> stay, String range) {
    return stay.stream()
        .filter(p -> StayContent.isLoad(p) && p.conditions().range().equals(Optional.of(range)))
        .toList();
  }

  private static Set<String> keys(List<PlannedPoint> points) {
    Set<String> keys = new LinkedHashSet<>();
    points.forEach(p -> keys.add(p.key()));
    return keys;
  }

  /**
   * The number of repetitions with which U decides; 0 where U decides without them or cannot decide
   * at all.
   */
  private int passes(LimitStanding limit, String range, int size) {
    double byPoints = limit.pointShare();
    double wanted = 1 / Math.pow(limit.share().getAsDouble(), 2);
    double room = wanted - (1 - byPoints);
    if (room <= 0) {
      return 0; // the part common to all points is too large already: more points do not help
    }
    long taken = count(range, false);
    double needed = byPoints * taken / room - taken - count(range, true);
    return (int) Math.min(MOST_PASSES, Math.max(0, Math.ceil(needed / size)));
  }

  private long count(String range, boolean toCome) {
    return at.plan().points().stream()
        .filter(p -> StayContent.isLoad(p) && p.conditions().range().equals(Optional.of(range)))
        .filter(p -> at.toGo().contains(p.key()) == toCome)
        .count();
  }

  /** The time that the rest of the plan takes, s. */
  private double leftS(Plan plan) {
    return plan.points().stream()
        .filter(p -> at.toGo().contains(p.key()))
        .findFirst()
        .map(p -> TimeSpanSeconds.seconds(Schedule.of(plan, datasheet, speeds).leftFrom(p)))
        .orElse(0.0);
  }

  private static PlanRevision revision(
      LimitStanding limit, String range, List<PlannedPoint> loads) {
    PlannedPoint first = loads.get(0);
    return new PlanRevision(
        PlanRevision.Kind.REPEAT,
        "stay %s, %s: %s of %s once more"
            .formatted(
                first.temperature().orElseThrow().visit() + 1,
                QuantityText.print(
                    first.conditions().temperatureDegC().orElseThrow(), Dimension.TEMPERATURE),
                NumberText.counted(loads.size(), "point"),
                range),
        List.copyOf(keys(loads)),
        limit.inWords());
  }
}
