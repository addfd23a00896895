// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.List;
import java.util.Set;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.datasheet.Datasheet;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.logbook.FileRole;
import millrace.logbook.RunFacts;
import millrace.logbook.RunReader;
import millrace.run.journal.ChangedPlan;
import millrace.run.soak.BenchSpeedsFromFile;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Schedule;
import millrace.sequence.TemperatureInsertion;

/**
 * The plan of a run in the logbook, expanded again from the stored files.
 *
 * @param datasheet its datasheet
 * @param bench its bench file
 * @param changed every point, with the changes since
 * @param schedule their times
 */
public record StoredRunPlan(
    Datasheet datasheet, BenchFile bench, ChangedPlan changed, Schedule schedule) {

  /**
   * The plan of a run.
   *
   * @param reader the run
   * @return its plan
   * @throws BadInputException if the run has no sequence, for example an imported one
   */
  public static StoredRunPlan of(RunReader reader) {
    RunInputs inputs = RunInputs.of(reader);
    BenchFile bench = bench(reader);
    RunFacts facts = reader.summary().start().facts();
    Plan begun =
        inputs.plan(
            facts.slot().map(List::of).orElseGet(() -> List.copyOf(bench.slots().keySet())));
    ChangedPlan changed = ChangedPlan.of(begun, reader.planChanges());
    Schedule schedule =
        Schedule.of(changed.plan(), inputs.datasheet(), BenchSpeedsFromFile.of(bench));
    return new StoredRunPlan(inputs.datasheet(), bench, changed, schedule);
  }

  private static BenchFile bench(RunReader reader) {
    return reader.files().stream()
        .filter(f -> f.role() == FileRole.BENCH)
        .findFirst()
        .map(f -> BenchForms.read(f.name(), reader.content(f)))
        .orElseThrow(() -> new IllegalStateException("a run without a bench file"));
  }

  /**
   * Every point.
   *
   * @return the plan in force
   */
  public Plan plan() {
    return changed.plan();
  }

  /**
   * The points still to take.
   *
   * @param done keys of points that need not be taken
   * @return in order
   */
  public List<PlannedPoint> toGo(Set<String> done) {
    return changed.toGo(done);
  }

  /**
   * Refuses an added temperature that the sequence could not ask for either.
   *
   * @param degC the temperature, degC
   * @param where the place of the request, for the message
   * @throws BadInputException if the bench or the unit does not allow it
   */
  public void refuse(double degC, String where) {
    int stay =
        plan().points().stream()
            .flatMap(p -> p.temperature().stream())
            .mapToInt(Plan.TemperatureRule::visit)
            .findFirst()
            .orElseThrow(() -> noTemperature(where));
    BenchCapabilityCheck.check(TemperatureInsertion.to(plan(), degC, stay), datasheet, bench);
  }

  private static BadInputException noTemperature(String where) {
    return new BadInputException(
        new InputFault(
            FilePlace.of(where),
            "this run goes to no temperature",
            "a sequence with temperatures",
            "Nothing was asked of it."));
  }
}
