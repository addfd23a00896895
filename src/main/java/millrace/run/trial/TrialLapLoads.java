// SPDX-License-Identifier: Apache-2.0
package millrace.run.trial;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.datasheet.Datasheet;
import millrace.evidence.PointConditions;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Task;

/** The loads that a trial lap stops at. */
final class TrialLapLoads {
  private static final double USUAL_SHARE = 0.5;

  private static final double USUAL_V = 2;

  private TrialLapLoads() {}

  /** The loads that are tried in one range, rising. */
  static List<PointConditions> of(PointConditions from, Datasheet sheet, Datasheet.Range range) {
    return of(from, range, USUAL_SHARE * fullOhm(sheet, range));
  }

  /** The same up to the highest load that a plan has in the range within its compliance. */
  static List<PointConditions> of(
      PointConditions from, Datasheet sheet, Datasheet.Range range, Plan plan) {
    double fullOhm = fullOhm(sheet, range);
    double highest =
        plan.points().stream()
            .filter(p -> p.task().traits().contains(Task.Trait.LOADED_UNIT))
            .map(PlannedPoint::conditions)
            .filter(c -> c.range().filter(range.name()::equals).isPresent())
            .flatMap(c -> c.loadOhm().stream().boxed())
            .filter(ohm -> ohm > 0 && ohm <= fullOhm)
            .max(Comparator.naturalOrder())
            .orElse(USUAL_SHARE * fullOhm);
    return of(from, range, highest);
  }

  private static double fullOhm(Datasheet sheet, Datasheet.Range range) {
    double fullV = sheet.complianceVoltageV(range.name()).orElse(USUAL_V);
    return fullV / Math.abs(range.nominalA());
  }

  private static List<PointConditions> of(
      PointConditions from, Datasheet.Range range, double highestOhm) {
    List<PointConditions> stops = new ArrayList<>();
    for (double ohm : new double[] {0, highestOhm}) {
      stops.add(
          from.inRange(range.name(), range.nominalA())
              .atLoad(ohm, OptionalDouble.empty(), Optional.empty()));
    }
    return stops;
  }
}
