package millrace.cli;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.bench.BenchFile;
import millrace.datasheet.Datasheet;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.evidence.Origin;
import millrace.fault.BadInputException;
import millrace.fault.Fault;
import millrace.fault.Place;
import millrace.logbook.FileRole;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.logbook.RunWriter;
import millrace.run.Before;
import millrace.run.Operator;
import millrace.run.RunObserver;
import millrace.run.RunOutcome;
import millrace.run.RunSetting;
import millrace.run.Runner;
import millrace.run.StopRequest;
import millrace.sequence.Plan;

/** One run of a sequence on an open bench, from its first line in the logbook to its last. */
final class Night {
  private final RunInputs inputs;
  private final BenchSetting setting;
  private final Logbook logbook;
  private final Attendance attendance;

  /**
   * Who is there.
   *
   * @param people names for the logbook
   * @param operator who answers questions
   * @param observers who is told
   * @param stop through which the run is ended early
   * @param cautions what a person confirmed before the run, for the logbook
   */
  record Attendance(
      RunStart.People people,
      Operator operator,
      List<RunObserver> observers,
      StopRequest stop,
      List<String> cautions) {}

  Night(RunInputs inputs, BenchSetting setting, Logbook logbook, Attendance attendance) {
    this.inputs = inputs;
    this.setting = setting;
    this.logbook = logbook;
    this.attendance = attendance;
  }

  /** Begins a run and takes it to its end. */
  RunOutcome begin(String unit) {
    Plan plan = plan();
    Map<String, String> identities = setting.bench().identify();
    Optional<RunStart.Simulation> simulation = simulation(identities);
    Instant now = setting.time().now();
    List<String> overdue = overdue(now);
    RunStart start =
        new RunStart(
            unit,
            simulation.isPresent() ? Origin.SIMULATED : Origin.BENCH,
            plan.title(),
            attendance.people(),
            simulation,
            RootCommand.VERSION,
            now,
            simulation.isPresent()
                ? ZoneOffset.UTC
                : ZoneId.systemDefault().getRules().getOffset(now),
            Map.of());
    try (RunWriter writer = logbook.begin(start)) {
      keepFiles(writer);
      InstrumentEntries.of(setting.bench().file(), identities, now).forEach(writer::instrument);
      overdue.forEach(text -> caution(writer, text));
      attendance.cautions().forEach(text -> caution(writer, text));
      return run(plan, writer, Before.NOTHING);
    }
  }

  /** Goes on with a run that was interrupted. */
  RunOutcome resume(RunReader reader, boolean acceptChanged) {
    Plan plan = plan();
    Map<String, String> identities = setting.bench().identify();
    if (!acceptChanged) {
      InstrumentEntries.refuseChanged(reader.instruments(), identities);
    }
    Before before = Before.of(reader);
    try (RunWriter writer = logbook.resume(reader.summary().id())) {
      writer.closeInterrupted("the run was interrupted here");
      if (acceptChanged) {
        caution(
            writer, "resumed although files or instruments may have changed (--accept-changed)");
      }
      return run(plan, writer, before);
    }
  }

  private Plan plan() {
    BenchFile file = setting.bench().file();
    Plan plan = inputs.plan(List.copyOf(file.slots().keySet()));
    BenchNeeds.check(plan, inputs.datasheet(), file);
    return plan;
  }

  private Optional<RunStart.Simulation> simulation(Map<String, String> identities) {
    boolean says = identities.values().stream().anyMatch(i -> i.contains("SIMULATED"));
    return setting
        .remembered()
        .or(() -> says ? Optional.of(new RunStart.Simulation(0, false)) : Optional.empty());
  }

  private RunOutcome run(Plan plan, RunWriter writer, Before before) {
    return new Runner(
            new RunSetting(
                plan,
                inputs.datasheet(),
                setting.bench(),
                writer,
                setting.time(),
                attendance.stop(),
                attendance.operator(),
                attendance.observers(),
                before))
        .run();
  }

  private void keepFiles(RunWriter writer) {
    inputs.files().forEach(f -> writer.file(f.role(), f.name(), f.content()));
    writer.file(FileRole.BENCH, setting.name(), setting.content());
  }

  private void caution(RunWriter writer, String text) {
    writer.incident(
        new Incident(
            IncidentKind.CAUTION,
            Optional.empty(),
            text,
            setting.time().now(),
            java.time.Duration.ZERO));
  }

  /** Instruments past their calibration date: a warning, or a refusal if the datasheet says so. */
  private List<String> overdue(Instant now) {
    LocalDate day = LocalDate.ofInstant(now, ZoneOffset.UTC);
    List<String> found =
        setting.bench().file().instruments().values().stream()
            .filter(e -> e.certificate().filter(c -> c.overdueOn(day)).isPresent())
            .map(
                e ->
                    "'%s' is past its calibration date: due %s, certificate %s"
                        .formatted(
                            e.name(),
                            e.certificate().orElseThrow().due().orElseThrow(),
                            e.certificate().orElseThrow().number()))
            .toList();
    if (!found.isEmpty() && inputs.datasheet().overdue() == Datasheet.Overdue.REFUSE) {
      throw new BadInputException(
          new Fault(
              Place.of(setting.name()),
              String.join("; ", found),
              "instruments within their calibration interval, as the datasheet asks",
              "Have them calibrated, or say 'overdue: warn' in the datasheet."));
    }
    return found;
  }
}
