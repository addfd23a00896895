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
 * Finds what the remaining stays are still needed for (methods.md 12). A range whose limits are all
 * decided is not measured any more; a stay with nothing left to measure is left out. Two things are
 * never left out: the first three visits to T_ref with all their points, and the zeros and check
 * standards of the ranges that are measured. The time that this frees goes to ranges that would end
 * with too large a U. Immutable.
 */
public final class NextStays {
  private final StoppingRule rule;
  private final Datasheet datasheet;
  private final BenchSpeeds speeds;

  /**
   * Creates the search for one run.
   *
   * @param rule the U at which each limit counts as decided
   * @param datasheet the datasheet of the units
   * @param speeds the speeds of the bench
   */
  public NextStays(StoppingRule rule, Datasheet datasheet, BenchSpeeds speeds) {
    this.rule = rule;
    this.datasheet = datasheet;
    this.speeds = speeds;
  }

  /**
   * Finds the changes of the plan.
   *
   * @param at the state of the run
   * @param units the limits of each unit, by what is measured so far
   * @return the points left out, stay by stay, then the points measured again; empty where the plan
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
   * The progress of the limits.
   *
   * @param units the limits of each unit, by what is measured so far
   * @return how many are decided, and what the others lack
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

  /** Ranges whose limits are all decided; a range without a limit of its own is not among them. */
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

  /**
   * The ranges that need no further measurement, and the limit of theirs that was closest to
   * needing it.
   */
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
