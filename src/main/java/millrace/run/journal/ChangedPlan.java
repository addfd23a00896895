// SPDX-License-Identifier: Apache-2.0
package millrace.run.journal;

import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import millrace.logbook.AddedTemperature;
import millrace.logbook.PlanChange;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.PointRepetition;
import millrace.sequence.TemperatureInsertion;

/**
 * The plan of a run with the changes that were made while it went on. The changes are part of the
 * run's record, so that the run, a resume and an observer have the same plan. Immutable.
 *
 * @param whole what its sequence says, with what was added; numbers of points are those of this
 * @param leftOut keys of points that are no longer of the plan
 * @param skipped why points of the plan are not measured after all, by their keys
 */
public record ChangedPlan(Plan whole, Set<String> leftOut, Map<String, String> skipped) {
  private static final String SKIPPED = "its temperature was skipped from another terminal";

  /** Copies the collections. */
  public ChangedPlan {
    leftOut = Set.copyOf(leftOut);
    skipped = Map.copyOf(skipped);
  }

  /**
   * A plan that was not changed.
   *
   * @param plan as its sequence says
   * @return the same
   */
  public static ChangedPlan of(Plan plan) {
    return new ChangedPlan(plan, Set.of(), Map.of());
  }

  /**
   * The plan with its changes.
   *
   * @param begun as its sequence says
   * @param changes of its run, in their order
   * @return the plan with all of them
   */
  public static ChangedPlan of(Plan begun, List<PlanChange> changes) {
    ChangedPlan all = of(begun);
    for (PlanChange each : changes) {
      all = all.with(each);
    }
    return all;
  }

  /**
   * The same with one more change.
   *
   * @param change of its run
   * @return the plan with it
   */
  public ChangedPlan with(PlanChange change) {
    return switch (change.kind()) {
      case ADD_TEMPERATURE -> {
        AddedTemperature added = AddedTemperature.of(change);
        yield with(TemperatureInsertion.to(whole, added.degC(), added.afterStay()));
      }
      case SKIP_TEMPERATURE -> {
        Map<String, String> all = new HashMap<>(skipped);
        change.keys().forEach(key -> all.putIfAbsent(key, SKIPPED));
        yield new ChangedPlan(whole, leftOut, all);
      }
      case LEAVE_OUT -> {
        Set<String> all = new HashSet<>(leftOut);
        all.addAll(change.keys());
        yield new ChangedPlan(whole, all, skipped);
      }
      case REPEAT -> with(PointRepetition.to(whole, Set.copyOf(change.keys())));
    };
  }

  private ChangedPlan with(Plan more) {
    return new ChangedPlan(more, leftOut, skipped);
  }

  /**
   * What is done.
   *
   * @return the plan that counts
   */
  public Plan plan() {
    return leftOut.isEmpty() ? whole : whole.without(leftOut);
  }

  /**
   * Why a point is not measured.
   *
   * @param point one of the plan's
   * @return in words; empty if it is measured
   */
  public Optional<String> why(PlannedPoint point) {
    return Optional.ofNullable(skipped.get(point.key()));
  }

  /**
   * The points that are still to be taken.
   *
   * @param done keys of those that need not be
   * @return in their order
   */
  public List<PlannedPoint> toGo(Set<String> done) {
    Set<String> not = new HashSet<>(done);
    not.addAll(skipped.keySet());
    return plan().points().stream().filter(p -> !not.contains(p.key())).toList();
  }

  /**
   * How many points are skipped that were not taken before.
   *
   * @param done keys of those that were
   * @return 0 or more
   */
  public int skippedBeside(Set<String> done) {
    return (int)
        plan().points().stream()
            .filter(p -> skipped.containsKey(p.key()) && !done.contains(p.key()))
            .count();
  }
}
