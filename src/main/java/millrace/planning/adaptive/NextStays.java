// SPDX-License-Identifier: Apache-2.0
package millrace.planning.adaptive;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import millrace.datasheet.Datasheet;
import millrace.planning.LimitForecast;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;
import millrace.sequence.BenchSpeeds;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Plan.TemperatureRule;

/**
 * What the stays to come are still needed for (methods.md 12). A range all of whose limits are
 * decided is measured no more; a stay at which nothing is left to measure is not gone to. Never
 * left out: the first three visits to T_ref with all that is done there, and the zeros and check
 * standards of what is measured. A range that would end with too large a U gets the time that this
 * frees. Immutable.
 */
public final class NextStays {
  private final StoppingRule rule;
  private final Datasheet datasheet;
  private final BenchSpeeds speeds;

  /**
   * For one run.
   *
   * @param rule by which U limits are decided
   * @param datasheet of its units
   * @param speeds how fast its bench goes
   */
  public NextStays(StoppingRule rule, Datasheet datasheet, BenchSpeeds speeds) {
    this.rule = rule;
    this.datasheet = datasheet;
    this.speeds = speeds;
  }

  /**
   * What is to be changed.
   *
   * @param at where the run stands
   * @param units the limits of each unit, by what was measured of it so far
   * @return what is left out, stay by stay, then what is measured once more; empty where the plan
   *     stays as it is
   */
  public List<PlanRevision> after(RunStanding at, List<List<LimitForecast>> units) {
    List<LimitStanding> standing = rule.standing(units);
    List<PlanRevision> all = new ArrayList<>(leftOut(at, standing));
    Set<String> gone = new LinkedHashSet<>();
    all.forEach(each -> gone.addAll(each.keys()));
    Set<String> toGo = new LinkedHashSet<>(at.toGo());
    toGo.removeAll(gone);
    RunStanding then = new RunStanding(at.plan().without(gone), toGo, at.elapsedS(), at.boundS());
    all.addAll(new FreedTime(then, datasheet, speeds).spent(standing));
    return all;
  }

  /**
   * How far the limits are.
   *
   * @param units the limits of each unit, by what was measured of it so far
   * @return how many are decided, and what is wanting of the others
   */
  public String inWords(List<List<LimitForecast>> units) {
    List<LimitStanding> standing = rule.standing(units);
    List<String> open =
        standing.stream().filter(s -> !s.decided()).map(LimitStanding::inWords).toList();
    return "%s of %s limits have the U that decides them%s"
        .formatted(
            standing.size() - open.size(),
            standing.size(),
            open.isEmpty() ? "" : "; not yet: " + String.join("; ", open));
  }

  private List<PlanRevision> leftOut(RunStanding at, List<LimitStanding> standing) {
    Set<String> decided = decided(at.plan(), standing);
    if (decided.isEmpty()) {
      return List.of();
    }
    List<PlanRevision> all = new ArrayList<>();
    Set<Integer> kept = PlannedStays.firstAtReference(at.plan(), datasheet);
    PlannedStays.toGo(at.plan(), at.toGo())
        .forEach(
            (visit, points) -> {
              List<PlannedPoint> out = new StayContent(points).without(decided);
              if (!kept.contains(visit) && !out.isEmpty()) {
                all.add(revision(points, out, standing));
              }
            });
    return all;
  }

  /** Ranges of which every limit is decided; one without a limit of its own is none. */
  private static Set<String> decided(Plan plan, List<LimitStanding> standing) {
    Set<String> ranges = new TreeSet<>();
    for (PlannedPoint p : plan.points()) {
      p.conditions().range().ifPresent(ranges::add);
    }
    ranges.removeIf(range -> !decided(range, standing));
    return ranges;
  }

  private static boolean decided(String range, List<LimitStanding> standing) {
    List<LimitStanding> about = standing.stream().filter(s -> s.isAbout(range)).toList();
    return !about.isEmpty() && about.stream().allMatch(LimitStanding::decided);
  }

  private static PlanRevision revision(
      List<PlannedPoint> stay, List<PlannedPoint> out, List<LimitStanding> standing) {
    TemperatureRule rule = stay.get(0).temperature().orElseThrow();
    boolean whole = out.size() == stay.size();
    Set<String> ranges = new LinkedHashSet<>();
    out.forEach(p -> p.conditions().range().ifPresent(ranges::add));
    String what =
        whole
            ? "all " + NumberText.counted(out.size(), "point")
            : "%s of %s points (%s)".formatted(out.size(), stay.size(), String.join(", ", ranges));
    return new PlanRevision(
        PlanRevision.Kind.LEAVE_OUT,
        "stay %s, %s: %s"
            .formatted(
                rule.visit() + 1,
                QuantityText.print(
                    stay.get(0).conditions().temperatureDegC().orElseThrow(),
                    Dimension.TEMPERATURE),
                what),
        out.stream().map(PlannedPoint::key).toList(),
        reason(ranges, standing));
  }

  /** Of which ranges nothing more needs to be known, and what came nearest to needing it. */
  private static String reason(Set<String> ranges, List<LimitStanding> standing) {
    return "every limit of %s has the U that decides it%s"
        .formatted(
            String.join(", ", ranges),
            standing.stream()
                .filter(s -> s.share().isPresent() && ranges.stream().anyMatch(s::isAbout))
                .max(Comparator.comparingDouble(s -> s.share().getAsDouble()))
                .map(s -> "; the last was " + s.inWords())
                .orElse(""));
  }
}
