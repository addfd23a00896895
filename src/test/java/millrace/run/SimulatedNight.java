// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.UnaryOperator;
import millrace.Impatient;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.basis.JudgementBasis;
import millrace.bench.Bench;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.bench.driver.Drivers;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.RunOrigin;
import millrace.logbook.Logbook;
import millrace.logbook.RunFacts;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.logbook.RunWriter;
import millrace.run.control.RunObserver;
import millrace.run.control.RunOutcome;
import millrace.run.control.StopRequest;
import millrace.run.control.WhatNext;
import millrace.run.journal.ChangedPlan;
import millrace.run.journal.NightRunWriters;
import millrace.run.journal.ResumeState;
import millrace.run.journal.RunContext;
import millrace.sequence.Plan;
import millrace.sequence.SequenceExpansion;
import millrace.sequence.SequenceForms;
import millrace.sim.SimulatedBench;
import millrace.sim.fault.FaultPlan;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.sim.truth.SimulatedUnitSpec;
import millrace.time.Seeds;
import millrace.time.VirtualClock;

/** One run on a simulated bench in virtual time, begun and gone on with as often as asked. */
final class SimulatedNight implements AutoCloseable {
  static final Instant EVENING = Instant.parse("2026-11-25T18:00:00Z");

  private final VirtualClock clock = new VirtualClock(EVENING);
  private final SimulatedBench bench;
  private final Path folder;
  private Logbook logbook;
  private final Datasheet datasheet;
  private final Plan plan;
  private final String text;
  private final BenchFile file;
  private final List<RunObserver> observers = new ArrayList<>();
  private StopRequest stop = new StopRequest(run -> "Go on with: millrace run --resume " + run);
  private String patience = "1 s";
  private boolean begun;
  private RunFacts facts = RunFacts.NONE;
  private WhatNext next = WhatNext.AS_PLANNED;

  private SimulatedNight(
      Path folder, String sequence, SimulatedBench.Settings settings, UnaryOperator<String> edit)
      throws IOException {
    this.folder = folder;
    bench = SimulatedBench.start(settings, clock);
    logbook = Logbook.openOrCreate(folder.resolve("night.db"));
    datasheet = DatasheetFile.read(Path.of("examples", "fx-3.datasheet.yaml"));
    Path written = Files.writeString(folder.resolve("night.yaml"), sequence);
    plan = SequenceExpansion.expand(SequenceForms.read(written).sequence(), datasheet, List.of());
    text = edit.apply(benchFile());
    file = bench(text);
  }

  private static BenchFile bench(String text) {
    return BenchForms.read("bench.yaml", text.getBytes(StandardCharsets.UTF_8));
  }

  /** The bench file of a night with something written otherwise, as a pattern. */
  static BenchFile edited(SimulatedNight night, String pattern, String instead) {
    return bench(night.text.replaceAll(pattern, instead));
  }

  static SimulatedNight of(Path folder, String sequence) throws IOException {
    return new SimulatedNight(folder, sequence, demo(), text -> text);
  }

  /** The same on another bench. */
  static SimulatedNight of(Path folder, String sequence, SimulatedBenchSpec spec)
      throws IOException {
    return of(folder, sequence, spec, text -> text);
  }

  static SimulatedNight of(
      Path folder, String sequence, SimulatedBenchSpec spec, UnaryOperator<String> edit)
      throws IOException {
    Map<String, SimulatedUnitSpec> unit = Map.of("1", SimulatedUnitSpec.demo());
    return new SimulatedNight(
        folder, sequence, SimulatedBench.Settings.drawn(spec, unit, new Seeds(5)), edit);
  }

  /** The same with another unit. */
  static SimulatedNight of(Path folder, String sequence, SimulatedUnitSpec unit)
      throws IOException {
    SimulatedBench.Settings settings =
        SimulatedBench.Settings.drawn(SimulatedBenchSpec.demo(), Map.of("1", unit), new Seeds(5));
    return new SimulatedNight(folder, sequence, settings, text -> text);
  }

  private static SimulatedBench.Settings demo() {
    return SimulatedBench.Settings.demo(new Seeds(5));
  }

  static SimulatedNight of(Path folder, String sequence, FaultPlan faults) throws IOException {
    return new SimulatedNight(folder, sequence, demo().with(faults), text -> text);
  }

  /** The same with a bench file that is written otherwise. */
  static SimulatedNight of(Path folder, String sequence, UnaryOperator<String> edit)
      throws IOException {
    return new SimulatedNight(folder, sequence, demo(), edit);
  }

  static SimulatedNight of(
      Path folder, String sequence, FaultPlan faults, UnaryOperator<String> edit)
      throws IOException {
    return new SimulatedNight(folder, sequence, demo().with(faults), edit);
  }

  private String benchFile() throws IOException {
    try (InputStream in =
        SimulatedNight.class.getResourceAsStream("/millrace/night/simulated-bench.yaml")) {
      String text = new String(in.readAllBytes(), StandardCharsets.UTF_8);
      for (Map.Entry<String, Integer> port : bench.ports().entrySet()) {
        text = text.replace("${" + port.getKey() + "}", port.getValue().toString());
      }
      return text + "slots: {'1': '1'}\n";
    }
  }

  /** How long every driver waits for a reply, as a driver file says it. */
  void waitingFor(String within) {
    patience = within;
  }

  /** Opens the logbook anew, as the next process does. */
  void reopen() {
    Path path = logbook.path();
    logbook.close();
    logbook = Logbook.open(path);
  }

  void observe(RunObserver observer) {
    observers.add(observer);
  }

  /** Who looks at the plan again. */
  void next(WhatNext next) {
    this.next = next;
  }

  /** How long bench and unit have been on when the run begins. */
  void onFor(Duration span) {
    facts = RunFacts.NONE.onFor(span);
  }

  /** Begins the run, or goes on with it, and takes it to its end. */
  RunOutcome run() {
    try (Bench open = Bench.open(file, Drivers.load(Impatient.drivers(folder, patience)), clock);
        RunWriter writer = begun ? logbook.resume(1) : logbook.begin(start())) {
      ResumeState before = begun ? ResumeState.of(logbook.reader(1)) : ResumeState.begins(facts);
      writer.closeInterrupted("the run was interrupted here");
      begun = true;
      return new Runner(
              new RunContext(
                  ChangedPlan.of(plan, reader().planChanges()),
                  datasheet,
                  open,
                  NightRunWriters.of(writer),
                  clock,
                  stop,
                  q -> "yes",
                  observers,
                  next,
                  before))
          .run();
    } finally {
      stop = new StopRequest(run -> "Go on with: millrace run --resume " + run);
      observers.clear();
    }
  }

  private RunStart start() {
    return new RunStart(
        "FX3-00001",
        RunOrigin.SIMULATED,
        plan.title(),
        RunStart.People.NONE,
        Optional.of(new RunStart.Simulation(5, true)),
        "test",
        clock.now(),
        ZoneOffset.UTC,
        facts);
  }

  BenchFile file() {
    return file;
  }

  /** What is found by the night's own bench file, or by another one. */
  Assessment assessed(BenchFile by) {
    return Assessor.assess(
        reader(),
        new JudgementBasis(
            Optional.of(datasheet),
            Optional.of(by),
            Optional.empty(),
            List.of(),
            Optional.empty(),
            ""));
  }

  Plan plan() {
    return plan;
  }

  Datasheet datasheet() {
    return datasheet;
  }

  StopRequest stop() {
    return stop;
  }

  VirtualClock clock() {
    return clock;
  }

  SimulatedBench bench() {
    return bench;
  }

  RunReader reader() {
    return logbook.reader(1);
  }

  List<Point> points() {
    return reader().points();
  }

  /** The texts of the incidents of one kind. */
  List<String> incidents(IncidentKind kind) {
    return reader().incidents().stream().filter(i -> i.kind() == kind).map(Incident::text).toList();
  }

  @Override
  public void close() {
    logbook.close();
    bench.close();
  }
}
