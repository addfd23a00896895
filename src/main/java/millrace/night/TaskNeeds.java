// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import millrace.bench.role.RoleName;
import millrace.sequence.MeasuringRules.ReadingRule;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Task;

/** The roles that a task of a plan needs regardless of its conditions, with the reason. */
final class TaskNeeds implements Task.Visitor<TaskNeeds.Needs> {
  private static final Needs METER =
      new Needs(Map.of(RoleName.CURRENT_METER, "reads the current"), List.of());

  private final ReadingRule readings;
  private final Set<String> standards;

  private TaskNeeds(ReadingRule readings, Set<String> standards) {
    this.readings = readings;
    this.standards = standards;
  }

  static Needs of(PlannedPoint point, Set<String> standards) {
    return point.task().accept(new TaskNeeds(point.rules().readings(), standards));
  }

  /** The needs of one task: roles with the purpose of each, and check standards. */
  record Needs(Map<RoleName, String> roles, List<String> standards) {
    Needs and(RoleName role, String does) {
      Map<RoleName, String> more = new LinkedHashMap<>(roles);
      more.put(role, does);
      return new Needs(more, standards);
    }
  }

  private Needs bothWays() {
    return readings.reversal() ? METER.and(RoleName.REVERSER, "exchanges the unit's leads") : METER;
  }

  @Override
  public Needs measure(Task.Measure task) {
    return bothWays();
  }

  @Override
  public Needs zero(Task.Zero task) {
    return METER;
  }

  @Override
  public Needs checkStandard(Task.CheckStandard task) {
    return new Needs(METER.roles(), task.among(standards));
  }

  /** The step sets loads of its own. */
  @Override
  public Needs findKnee(Task.FindKnee task) {
    return bothWays().and(RoleName.LOAD, "sets the loads");
  }

  @Override
  public Needs watch(Task.Watch task) {
    return METER;
  }

  @Override
  public Needs sourceOff(Task.SourceOff task) {
    return METER;
  }

  @Override
  public Needs knownResistor(Task.KnownResistor task) {
    return bothWays();
  }

  @Override
  public Needs trialLap(Task.TrialLap task) {
    return METER;
  }

  @Override
  public Needs ask(Task.Ask task) {
    return new Needs(Map.of(), List.of());
  }

  @Override
  public Needs waits(Task.Wait task) {
    return new Needs(Map.of(), List.of());
  }
}
