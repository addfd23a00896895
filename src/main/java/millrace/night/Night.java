// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import millrace.bench.Bench;
import millrace.bench.BenchFile;
import millrace.bench.role.Chamber;
import millrace.bench.role.RoleName;
import millrace.datasheet.Datasheet;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.evidence.RunOrigin;
import millrace.evidence.Version;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.logbook.FileRole;
import millrace.logbook.Logbook;
import millrace.logbook.NightRuns;
import millrace.logbook.PlanChange;
import millrace.logbook.RunFacts;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.logbook.RunWriter;
import millrace.night.adaptive.AdaptiveNight;
import millrace.run.Runner;
import millrace.run.control.BenchTelemetryFile;
import millrace.run.control.RunOutcome;
import millrace.run.control.WhatNext;
import millrace.run.journal.ChangedPlan;
import millrace.run.journal.NightRunWriters;
import millrace.run.journal.ResumeState;
import millrace.run.journal.RunContext;
import millrace.sequence.Plan;
import millrace.terminal.Console;

/** One run of a sequence on an open bench, from its first row in the logbook to its last. */
public final class Night {
  private final RunInputs inputs;
  private final BenchSession setting;
  private final Logbook logbook;
  private final OperatorAttendance attendance;
  private final List<Long> runs = new ArrayList<>();

  /**
   * Creates a run that has not begun.
   *
   * @param inputs sequence and datasheet
   * @param setting the open bench
   * @param logbook the logbook that it writes
   * @param attendance the people at the bench
   */
  public Night(
      RunInputs inputs, BenchSession setting, Logbook logbook, OperatorAttendance attendance) {
    this.inputs = inputs;
    this.setting = setting;
    this.logbook = logbook;
    this.attendance = attendance;
  }

  /** Starts a run and executes it to its end. */
  public RunOutcome begin(UnitUnderTest order) {
    return begin(List.of(order));
  }

  /** Starts one run for each unit, all in one chamber, and executes them to their end. */
  public RunOutcome begin(List<UnitUnderTest> orders) {
    List<String> slots = UnitsInSlots.of(orders, setting.bench().file());
    Plan plan = plan(slots);
    Map<String, String> identities = setting.identities();
    Optional<RunStart.Simulation> simulation = setting.remembered(identities);
    Instant now = setting.time().now();
    List<String> warnings = warnings(plan);
    Map<String, RunWriter> writers = new LinkedHashMap<>();
    try {
      for (int i = 0; i < orders.size(); i++) {
        RunStart start = start(orders.get(i), plan, simulation, now);
        RunWriter writer = logbook.begin(together(start, orders, writers));
        writers.put(i < slots.size() ? slots.get(i) : "", writer);
        keepFiles(writer);
        orders.get(i).setUp().ifPresent(writer::setUp);
        LogbookInstrumentEntries.of(setting.bench().file(), identities, now)
            .forEach(writer::instrument);
        warnings.forEach(text -> caution(writer, text));
        attendance.cautions().forEach(text -> caution(writer, text));
      }
      RunFacts facts = orders.get(0).facts();
      return run(new Begun(plan, List.of(), facts), writers, ResumeState.begins(facts));
    } finally {
      runs.addAll(writers.values().stream().map(RunWriter::run).toList());
      writers.values().forEach(RunWriter::close);
    }
  }

  /** Each run of a night stores the number of the first. */
  private static RunStart together(
      RunStart start, List<UnitUnderTest> orders, Map<String, RunWriter> begun) {
    if (orders.size() < 2 || begun.isEmpty()) {
      return start;
    }
    RunFacts facts = start.facts().togetherWith(begun.values().iterator().next().uuid());
    return new RunStart(
        start.unit(),
        start.origin(),
        start.title(),
        start.people(),
        start.simulation(),
        start.millrace(),
        start.startedAt(),
        start.offset(),
        facts);
  }

  private RunStart start(
      UnitUnderTest order, Plan plan, Optional<RunStart.Simulation> simulation, Instant now) {
    return new RunStart(
        order.unit(),
        simulation.isPresent() ? RunOrigin.SIMULATED : RunOrigin.BENCH,
        plan.title(),
        attendance.people(),
        simulation,
        Version.CURRENT,
        now,
        simulation.isPresent() ? ZoneOffset.UTC : ZoneId.systemDefault().getRules().getOffset(now),
        facts(order, plan));
  }

  /** The numbers of the runs begun or resumed, in the order of the units. */
  public List<Long> runs() {
    return List.copyOf(runs);
  }

  /** Passes on what the sequence asks for, since an assessment knows no sequences. */
  private static RunFacts facts(UnitUnderTest order, Plan plan) {
    RunFacts facts = order.slot().map(order.facts()::inSlot).orElse(order.facts());
    return facts.telling(plan.compute());
  }

  /** Resumes an interrupted run, and the runs of the other units of its night. */
  public RunOutcome resume(RunReader reader, boolean acceptChanged) {
    List<RunReader> night = nightOf(reader);
    Map<String, RunReader> bySlot = new LinkedHashMap<>();
    night.forEach(r -> bySlot.put(slot(r), r));
    Begun begun =
        new Begun(
            plan(bySlot.keySet().stream().filter(s -> !s.isEmpty()).toList()),
            night.get(0).planChanges(),
            night.get(0).summary().start().facts());
    Map<String, String> identities = setting.identities();
    if (!acceptChanged) {
      LogbookInstrumentEntries.refuseChanged(reader.instruments(), identities);
    }
    ResumeState before = ResumeState.of(night);
    Map<String, RunWriter> writers = new LinkedHashMap<>();
    try {
      for (Map.Entry<String, RunReader> unit : bySlot.entrySet()) {
        RunWriter writer = logbook.resume(unit.getValue().summary().id());
        writers.put(unit.getKey(), writer);
        writer.closeInterrupted("the run was interrupted here");
        attendance.cautions().forEach(text -> caution(writer, text));
        if (acceptChanged) {
          caution(
              writer, "resumed although files or instruments may have changed (--accept-changed)");
        }
      }
      return run(begun, writers, before);
    } finally {
      runs.addAll(writers.values().stream().map(RunWriter::run).toList());
      writers.values().forEach(RunWriter::close);
    }
  }

  /** All runs that were started together with a given run. */
  private List<RunReader> nightOf(RunReader reader) {
    return NightRuns.of(logbook, reader.summary()).stream()
        .map(s -> logbook.reader(s.id()))
        .toList();
  }

  /** The slot that the run began with, else the only slot of the bench. */
  private String slot(RunReader reader) {
    return reader
        .summary()
        .start()
        .facts()
        .slot()
        .or(() -> setting.bench().file().slots().keySet().stream().findFirst())
        .orElse("");
  }

  /**
   * Refuses a plan that this bench cannot carry out, before anything is written.
   *
   * @throws BadInputException if the datasheet has no such range, the bench no such slot or role,
   *     or an instrument is past its calibration date where the datasheet refuses that
   */
  public static BenchVoltageSources check(
      RunInputs inputs, BenchSession setting, List<UnitUnderTest> orders, Console console) {
    BenchFile bench = setting.bench().file();
    Plan plan = inputs.plan(UnitsInSlots.of(orders, bench));
    BenchCapabilityCheck.check(plan, inputs.datasheet(), bench);
    setting.bench().refuseSafeBeyond();
    overdue(inputs, setting).forEach(text -> console.error("CAUTION: " + text + "."));
    BenchVoltageSources voltages = BenchVoltageSources.of(plan, inputs.datasheet(), bench);
    BenchLimitCheck.warnings(plan, voltages, bench).forEach(console::error);
    slack(setting.bench()).ifPresent(console::error);
    return voltages;
  }

  /** The warning about a chamber without a ramp. */
  private static Optional<String> slack(Bench bench) {
    return bench
        .in(RoleName.CHAMBER, Chamber.class)
        .filter(chamber -> !chamber.canRamp())
        .map(
            chamber ->
                "CAUTION: the chamber '%s' cannot be sent a ramp rate: set 'ramp at most' at its panel."
                    .formatted(bench.nameIn(RoleName.CHAMBER).orElseThrow()));
  }

  /** The warnings to the person, for the logbook. */
  private List<String> warnings(Plan plan) {
    BenchFile bench = setting.bench().file();
    List<String> all = new ArrayList<>(overdue(inputs, setting));
    BenchLimitCheck.warnings(plan, BenchVoltageSources.of(plan, inputs.datasheet(), bench), bench)
        .forEach(text -> all.add(text.replace("CAUTION: ", "")));
    return all;
  }

  private Plan plan(List<String> slots) {
    Plan plan = inputs.plan(slots);
    BenchCapabilityCheck.check(plan, inputs.datasheet(), setting.bench().file());
    return plan;
  }

  /** The plan that a run began with, and its changes since. */
  private record Begun(Plan plan, List<PlanChange> changes, RunFacts facts) {}

  private RunOutcome run(Begun begun, Map<String, RunWriter> writers, ResumeState before) {
    RunWriter first = writers.values().iterator().next();
    setting.hold(logbook.path(), first.run(), first.uuid());
    try (BenchTelemetryFile telemetry =
        new BenchTelemetryFile(logbook.path(), first.run(), setting.bench())) {
      return new Runner(
              new RunContext(
                  ChangedPlan.of(begun.plan(), begun.changes()),
                  inputs.datasheet(),
                  setting.bench(),
                  NightRunWriters.of(writers),
                  setting.time(),
                  attendance.stop(),
                  attendance.operator(),
                  Stream.concat(attendance.observers().stream(), Stream.of(telemetry)).toList(),
                  next(begun, writers),
                  before))
          .run();
    }
  }

  private WhatNext next(Begun begun, Map<String, RunWriter> writers) {
    return AdaptiveNight.of(
        logbook,
        writers.values().stream().map(RunWriter::run).toList(),
        begun.plan(),
        new AdaptiveNight.Setting(inputs.datasheet(), setting.bench().file()),
        begun.facts());
  }

  private void keepFiles(RunWriter writer) {
    inputs.files().forEach(f -> writer.file(f.role(), f.name(), f.content()));
    writer.file(FileRole.BENCH, setting.name(), setting.content());
  }

  private void caution(RunWriter writer, String text) {
    writer.incident(
        new Incident(
            IncidentKind.CAUTION, Optional.empty(), text, setting.time().now(), Duration.ZERO));
  }

  /** Instruments past their calibration date: a warning, or a refusal if the datasheet says so. */
  private static List<String> overdue(RunInputs inputs, BenchSession setting) {
    List<String> found = PreviewCautions.overdue(setting.bench().file(), setting.time().now());
    if (!found.isEmpty() && inputs.datasheet().overdue() == Datasheet.Overdue.REFUSE) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of(setting.name()),
              String.join("; ", found),
              "instruments within their calibration interval, as the datasheet asks",
              "Have them calibrated, or say 'overdue instruments: warn' in the datasheet."));
    }
    return found;
  }
}
