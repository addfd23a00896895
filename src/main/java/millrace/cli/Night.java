package millrace.cli;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.assessment.Assessor;
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
import millrace.logbook.SetUp;
import millrace.run.Before;
import millrace.run.Operator;
import millrace.run.RunObserver;
import millrace.run.RunOutcome;
import millrace.run.RunSetting;
import millrace.run.Runner;
import millrace.run.StopRequest;
import millrace.run.production.Board;
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

  /**
   * What is measured, and how it is connected.
   *
   * @param unit serial number
   * @param slot the slot it sits in; empty for every slot of the bench
   * @param setUp how it is connected; empty if not noted
   * @param facts what the logbook keeps beside
   */
  record Order(
      String unit, Optional<String> slot, Optional<SetUp> setUp, Map<String, String> facts) {
    static Order of(String unit) {
      return new Order(unit, Optional.empty(), Optional.empty(), Map.of());
    }
  }

  /** Begins a run and takes it to its end. */
  RunOutcome begin(Order order) {
    Plan plan =
        plan(
            order
                .slot()
                .map(List::of)
                .orElse(List.copyOf(setting.bench().file().slots().keySet())));
    Map<String, String> identities = setting.bench().identify();
    Optional<RunStart.Simulation> simulation = setting.remembered(identities);
    Instant now = setting.time().now();
    List<String> overdue = overdue(now);
    RunStart start =
        new RunStart(
            order.unit(),
            simulation.isPresent() ? Origin.SIMULATED : Origin.BENCH,
            plan.title(),
            attendance.people(),
            simulation,
            RootCommand.VERSION,
            now,
            simulation.isPresent()
                ? ZoneOffset.UTC
                : ZoneId.systemDefault().getRules().getOffset(now),
            facts(order, plan));
    try (RunWriter writer = logbook.begin(start)) {
      keepFiles(writer);
      order.setUp().ifPresent(writer::setUp);
      InstrumentEntries.of(setting.bench().file(), identities, now).forEach(writer::instrument);
      overdue.forEach(text -> caution(writer, text));
      attendance.cautions().forEach(text -> caution(writer, text));
      return run(plan, writer, Before.NOTHING);
    }
  }

  /** An assessment computes what the sequence asks for, and knows no sequences. */
  private static Map<String, String> facts(Order order, Plan plan) {
    Map<String, String> facts = new HashMap<>(order.facts());
    if (!plan.compute().isEmpty()) {
      facts.put(
          Assessor.WANTED,
          String.join(" ", plan.compute().stream().map(q -> q.key()).sorted().toList()));
    }
    return facts;
  }

  /** Goes on with a run that was interrupted. */
  RunOutcome resume(RunReader reader, boolean acceptChanged) {
    Plan plan = plan(slots(reader));
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

  /** The slot that the run was begun with, else every slot of the bench. */
  private List<String> slots(RunReader reader) {
    String slot = reader.summary().start().facts().get(Board.SLOT);
    return slot == null ? List.copyOf(setting.bench().file().slots().keySet()) : List.of(slot);
  }

  private Plan plan(List<String> slots) {
    Plan plan = inputs.plan(slots);
    BenchNeeds.check(plan, inputs.datasheet(), setting.bench().file());
    return plan;
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
