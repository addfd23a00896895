// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.logbook.PlanChange;
import millrace.logbook.RunFacts;
import millrace.planning.LimitForecast;
import millrace.planning.adaptive.StoppingRule;
import millrace.run.journal.ChangedPlan;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;

/**
 * A run with adaptive stopping, computed before it is measured (methods.md 12): first with its
 * whole plan, which fixes the U at which each limit counts as decided, then with the revisions of
 * its plan. Immutable.
 */
public final class AdaptiveForecast {
  private static final int LEAST_STAYS = 2;

  private final ForecastRun.Order order;
  private final Earlier earlier;
  private final RunFacts facts;

  private AdaptiveForecast(ForecastRun.Order order, Earlier earlier, RunFacts facts) {
    this.order = order;
    this.earlier = earlier;
    this.facts = facts;
  }

  /**
   * Computes the run with all of its plan.
   *
   * @param order the run
   * @param earlier the results of an earlier unit, expected of this one too
   * @return the forecast with its rule fixed
   * @throws BadInputException if the sequence has fewer than two temperatures, or no limit gets a
   *     result
   */
  public static AdaptiveForecast of(ForecastRun.Order order, Earlier earlier) {
    BenchFile bench = BenchForms.read(order.benchName(), order.content());
    if (order.inputs().plan(List.copyOf(bench.slots().keySet())).stays().size() < LEAST_STAYS) {
      throw refused(order, "it goes to fewer than two temperatures");
    }
    List<LimitForecast> whole = LimitForecast.of(ForecastRun.of(order, earlier).results(), bench);
    RunFacts facts = RunFacts.NONE.decidingAtU(StoppingRule.of(whole).mostU());
    if (facts.decidesAtU().isEmpty()) {
      throw refused(order, "it tells of no limit of the datasheet");
    }
    return new AdaptiveForecast(order, earlier, facts);
  }

  private static BadInputException refused(ForecastRun.Order order, String found) {
    return new BadInputException(
        new InputFault(
            FilePlace.of("sequence '%s'".formatted(order.inputs().loaded().sequence().title())),
            found,
            "several temperatures, between which the plan is looked at again, and limits to decide",
            "Leave out --adaptive, or 'adaptive: yes' in the sequence."));
  }

  /**
   * The facts that a run stores at its beginning.
   *
   * @return the U at which each limit counts as decided
   */
  public RunFacts facts() {
    return facts;
  }

  /**
   * Computes the run with the revisions of its plan, for a unit as expected.
   *
   * @return the forecast
   */
  public ForecastRun.Computed computed() {
    return ForecastRun.of(order, earlier, facts);
  }

  /**
   * The part of a plan that would be measured if every unit were like the computed one.
   *
   * @param plan the plan of the same sequence, perhaps with more slots
   * @param changes of the computed run
   * @return the plan with the same changes in each slot
   */
  public static Plan expected(Plan plan, List<PlanChange> changes) {
    Map<String, Set<String>> alike = new HashMap<>();
    Map<String, String> anywhere = new HashMap<>();
    for (PlannedPoint p : plan.points()) {
      String key = anywhere(p);
      anywhere.put(p.key(), key);
      alike.computeIfAbsent(key, k -> new LinkedHashSet<>()).add(p.key());
    }
    List<PlanChange> all = new ArrayList<>();
    for (PlanChange c : changes) {
      Set<String> keys = new LinkedHashSet<>();
      c.keys().forEach(k -> keys.addAll(alike.getOrDefault(anywhere.get(k), Set.of())));
      all.add(
          new PlanChange.Draft(c.kind(), c.words(), List.copyOf(keys), c.reason(), c.who())
              .at(c.at(), c.elapsed()));
    }
    return ChangedPlan.of(plan, all).plan();
  }

  /** The key of a point without its slot. */
  private static String anywhere(PlannedPoint p) {
    String key = "/" + p.key();
    return p.conditions().slot().map(s -> key.replace("/slot " + s + "/", "/")).orElse(key);
  }
}
