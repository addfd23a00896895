// SPDX-License-Identifier: Apache-2.0
package millrace.run.journal;

import java.util.Optional;
import millrace.logbook.AddedTemperature;
import millrace.logbook.RunFacts;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.TemperatureInsertion;

/**
 * Temperatures that were added to a night while it ran: facts of its run, so that a resume and
 * whoever looks at it know the same plan.
 */
public final class TemperatureAdditions {
  private TemperatureAdditions() {}

  /**
   * The plan with all that was added.
   *
   * @param plan as its sequence says
   * @param facts of its run
   * @return the plan that counts
   */
  public static Plan to(Plan plan, RunFacts facts) {
    Plan all = plan;
    for (AddedTemperature each : facts.added()) {
      all = TemperatureInsertion.to(all, each.degC(), each.afterStay());
    }
    return all;
  }

  /** The stay that is under way at a point, else the next one. */
  public static Optional<Integer> stay(Plan plan, PlannedPoint at) {
    return plan.points().stream()
        .skip(plan.placeOf(at))
        .filter(p -> p.temperature().isPresent())
        .map(p -> p.temperature().get().visit())
        .findFirst();
  }
}
