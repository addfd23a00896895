// SPDX-License-Identifier: Apache-2.0
package millrace.cli.run;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.function.Supplier;
import millrace.bench.BenchForms;
import millrace.bench.driver.Drivers;
import millrace.bench.role.BenchOperator;
import millrace.bench.role.InstrumentDriver.Surroundings;
import millrace.cli.exit.ExitCode;
import millrace.cli.exit.RunEndNotice;
import millrace.cli.option.BenchOptions;
import millrace.cli.option.BorrowedCoefficientsOption;
import millrace.cli.option.CommandToType;
import millrace.cli.option.LinkRecordingOptions;
import millrace.cli.option.LogbookOption;
import millrace.cli.option.NoticeOptions;
import millrace.cli.option.SwitchedOnTimeOption;
import millrace.document.Hashes;
import millrace.document.yaml.YamlFile;
import millrace.evidence.RunOrigin;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.MillraceException;
import millrace.fault.StoppedException;
import millrace.logbook.FileRole;
import millrace.logbook.Logbook;
import millrace.logbook.RunFacts;
import millrace.logbook.RunInputFile;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;
import millrace.night.BenchSession;
import millrace.night.BenchVoltageSources;
import millrace.night.CautionConfirmation;
import millrace.night.MistreatedBench;
import millrace.night.Night;
import millrace.night.OperatorAttendance;
import millrace.night.RunInputs;
import millrace.night.SimulatedBenchSession;
import millrace.night.UnitUnderTest;
import millrace.night.UnitsInSlots;
import millrace.night.forecast.AdaptiveForecast;
import millrace.night.forecast.Earlier;
import millrace.night.forecast.ForecastRun;
import millrace.quantity.NumberText;
import millrace.run.control.RunObserver;
import millrace.run.control.RunOutcome;
import millrace.run.control.StopRequest;
import millrace.run.journal.WarmUp;
import millrace.run.notice.Notices;
import millrace.sim.fault.FaultPlan;
import millrace.terminal.Console;
import millrace.terminal.Progress;
import millrace.terminal.Questions;
import millrace.terminal.StopSignals;
import millrace.time.VirtualClock;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Runs a sequence on a unit. */
@Command(
    name = "run",
    mixinStandardHelpOptions = true,
    sortOptions = false,
    description = {
      "Runs a sequence on a unit: sets conditions, takes readings, keeps the logbook, and makes the"
          + " bench safe at the end, on Ctrl-C and on any failure.",
      "Millrace is not a safety device: a chamber that nobody watches needs its own cut-out."
    },
    footer = {
      "",
      "Exit code: 0 all limits pass, 1 a limit fails, 2 an option or a file cannot be used, 3 an"
          + " instrument failed, 4 an interlock stopped it, 5 logbook trouble, 7 a limit was not"
          + " evaluated or a point is missing or flagged, 8 the safe state could not be confirmed:"
          + " go there, 9 the trial lap stopped a unit, 129, 130, 143 stopped by a signal.",
      "",
      "Examples:",
      "  millrace run sequences/quick-look.yaml --unit FX3-00042 \\",
      "      --datasheet fx-3.datasheet.yaml --bench bench.yaml",
      "  millrace run --resume 12"
    })
public final class RunCommand implements Callable<Integer> {
  private final Console console;

  @Spec private CommandSpec spec;

  @Parameters(arity = "0..1", paramLabel = "SEQUENCE", description = "What to do.")
  private Optional<Path> sequence = Optional.empty();

  @Option(
      names = "--unit",
      paramLabel = "[SLOT=]SN",
      description = "Serial number of the unit; several as SLOT=SN, one run each.")
  private List<String> units = List.of();

  @Option(names = "--datasheet", paramLabel = "FILE", description = "What the unit promises.")
  private Optional<Path> datasheet = Optional.empty();

  @Mixin private BenchOptions bench = new BenchOptions();
  @Mixin private LinkRecordingOptions links = new LinkRecordingOptions();
  @Mixin private LogbookOption logbook = new LogbookOption();

  @Option(names = "--operator", paramLabel = "NAME", description = "Who runs it.")
  private Optional<String> operator = Optional.empty();

  @Option(names = "--batch", paramLabel = "NAME", description = "The batch the unit belongs to.")
  private Optional<String> batch = Optional.empty();

  @Option(names = "--tag", paramLabel = "NAME", description = "A word to find the run by.")
  private Optional<String> tag = Optional.empty();

  @Mixin private SwitchedOnTimeOption onFor = new SwitchedOnTimeOption();
  @Mixin private BorrowedCoefficientsOption like = new BorrowedCoefficientsOption();

  @Option(
      names = "--adaptive",
      description =
          "Look at the plan again after each temperature: what is decided is left out, what is not"
              + " gets the time.")
  private boolean adaptive;

  @Mixin private NoticeOptions notices = new NoticeOptions();

  @Option(
      names = "--resume",
      paramLabel = "RUN",
      description = "Go on with an interrupted run, by number or UUID.")
  private Optional<String> resume = Optional.empty();

  @Option(
      names = "--accept-changed",
      description = "Resume although files or instruments changed; the logbook notes it.")
  private boolean acceptChanged;

  @Option(
      names = "--unattended",
      description = "Nobody answers questions, and a hang-up does not end the run.")
  private boolean unattended;

  @Option(
      names = "--confirm-above-60V",
      description = "Confirm beforehand that voltages above 60 V DC are guarded.")
  private boolean confirmAbove60V;

  private Optional<Questions> questions = Optional.empty();
  private Optional<Logbook> writing = Optional.empty();

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public RunCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    return resume.isPresent() ? resumed(resume.get()) : begun();
  }

  private <T> T needed(Optional<T> given, String what) {
    return given.orElseThrow(
        () ->
            new CommandLine.ParameterException(
                spec.commandLine(),
                "missing: " + what + ". A run needs it unless --resume is given."));
  }

  private int begun() {
    RunInputs inputs =
        RunInputs.read(
            needed(sequence, "the SEQUENCE file"), needed(datasheet, "--datasheet FILE"));
    needed(units.stream().findFirst(), "--unit SN");
    bench.refuseNone(spec.commandLine());
    links.check(spec.commandLine(), bench.simulated());
    List<String> cautions = new ArrayList<>();
    List<UnitUnderTest> orders = warm(UnitsInSlots.orders(units, inputs.datasheet()), inputs);
    StopRequest stop = new StopRequest(this::onceStopped);
    try (StopSignals signals = StopSignals.into(stop, unattended, console);
        LinkRecordingOptions recording = links;
        BenchSession setting =
            bench.open(inputs.datasheet(), person(), positions(orders), recording.links());
        Logbook book = logbookFor(inputs, setting, orders, cautions);
        WatchdogProcess guard = guard(setting, book)) {
      signals.listening();
      RunEndNotice ending = ending(setting, book, units);
      Night night = new Night(inputs, setting, book, attendance(stop, cautions, ending, guard));
      return ending.of(
          () -> {
            RunFacts facts = stopping(inputs, setting, book, like.facts(book));
            List<UnitUnderTest> all = orders.stream().map(o -> o.with(facts)).toList();
            RunOutcome outcome = orSaidHow(night, book, () -> night.begin(all));
            return resultsOf(outcome, night, setting, book);
          });
    }
  }

  /** The facts, with those by which a run with adaptive stopping revises its plan. */
  private RunFacts stopping(RunInputs inputs, BenchSession setting, Logbook book, RunFacts facts) {
    if (!adaptive && !inputs.loaded().sequence().adaptive()) {
      return facts;
    }
    ForecastRun.Order order =
        new ForecastRun.Order(
            inputs,
            setting.name(),
            new String(setting.content(), StandardCharsets.UTF_8),
            bench.drivers(),
            setting.time().now());
    double lineHz = setting.bench().file().lineFrequencyHz();
    Earlier earlier =
        facts
            .typeRun()
            .map(uuid -> Earlier.of(book.reader(book.find(uuid.toString()).id()), lineHz))
            .orElse(Earlier.NONE);
    RunFacts known = AdaptiveForecast.of(order, earlier).facts();
    console.error(
        "  adaptive stopping: %s, each decided at a U that is fixed by now and kept with the run"
            .formatted(NumberText.counted(known.decidesAtU().size(), "limit")));
    return facts.and(known);
  }

  /** The same with the time since everything was switched on, where warm-up is needed. */
  private List<UnitUnderTest> warm(List<UnitUnderTest> orders, RunInputs inputs) {
    List<WarmUp.Need> needs =
        bench
            .file()
            .map(file -> WarmUp.needs(inputs.datasheet(), BenchForms.read(file)))
            .orElse(List.of());
    RunFacts facts = onFor.facts(needs, questions());
    return orders.stream().map(order -> order.with(facts)).toList();
  }

  /**
   * The logbook, created only after the bench is open, can execute the plan, and the caution is
   * confirmed.
   */
  private Logbook logbookFor(
      RunInputs inputs, BenchSession setting, List<UnitUnderTest> orders, List<String> cautions) {
    BenchVoltageSources voltages = Night.check(inputs, setting, orders, console);
    cautions.addAll(confirmed(voltages, bench.simulated()));
    setting.meet();
    return kept(logbook.writeOrCreate());
  }

  private List<String> confirmed(BenchVoltageSources voltages, boolean simulated) {
    return new CautionConfirmation(console, unattended)
        .confirm(voltages, confirmAbove60V, simulated);
  }

  private ExitCode resultsOf(RunOutcome outcome, Night night, BenchSession setting, Logbook book) {
    setting.simulation().ifPresent(s -> MistreatedBench.tell(s, console));
    List<ExitCode> codes = new ArrayList<>();
    if (outcome.leftOut() > 0) {
      codes.add(ExitCode.TRIAL_LAP);
    }
    night.runs().forEach(run -> codes.add(PostRunResults.of(book, run, console)));
    return ExitCode.worst(codes);
  }

  /** The positions of the units of a simulated bench. */
  private static List<String> positions(List<UnitUnderTest> orders) {
    List<String> named = orders.stream().flatMap(o -> o.slot().stream()).toList();
    return named.isEmpty() ? SimulatedBenchSession.ONE : named;
  }

  private int resumed(String name) {
    bench.refuseSpeed(spec.commandLine());
    links.check(spec.commandLine(), bench.simulated());
    if (links.replays()) {
      throw new CommandLine.ParameterException(
          spec.commandLine(),
          "--replay with --resume; expected one of them: a recording is answered from its"
              + " beginning. Begin a new run with it");
    }
    try (Logbook book = kept(logbook.write())) {
      RunSummary summary = book.find(name);
      RunReader reader = book.reader(summary.id());
      if (summary.state() == RunState.COMPLETE) {
        throw new BadInputException(
            new InputFault(
                FilePlace.of("run " + summary.id()),
                "it is complete",
                "an interrupted run",
                "Look at it with 'millrace report %s'.".formatted(summary.id())));
      }
      refuseProduction(summary);
      refuseToBecomeAdaptive(summary);
      StopRequest stop = new StopRequest(this::onceStopped);
      try (StopSignals signals = StopSignals.into(stop, unattended, console);
          LinkRecordingOptions recording = links;
          BenchSession setting = again(reader, summary, recording.links());
          WatchdogProcess guard = guard(setting, book)) {
        signals.listening();
        RunEndNotice ending = ending(setting, book, List.of(summary.start().unit()));
        RunInputs inputs = RunInputs.of(reader);
        BenchVoltageSources voltages = Night.check(inputs, setting, List.of(), console);
        List<String> cautions = confirmed(voltages, setting.ownProcess());
        Night night = new Night(inputs, setting, book, attendance(stop, cautions, ending, guard));
        return ending.of(
            () -> {
              RunOutcome outcome =
                  orSaidHow(night, book, () -> night.resume(reader, acceptChanged));
              return resultsOf(outcome, night, setting, book);
            });
      }
    }
  }

  /** The command line that resumes a run, to be typed in this folder. */
  private String goOn(long run) {
    List<String> words = new ArrayList<>(List.of("run", "--resume", Long.toString(run)));
    words.addAll(List.of("--logbook", CommandToType.path(logbook.path())));
    if (resume.isPresent()) {
      bench.file().ifPresent(f -> words.addAll(List.of("--bench", CommandToType.path(f))));
      words.addAll(acceptChanged ? List.of("--accept-changed") : List.of());
    }
    words.addAll(bench.again());
    operator.ifPresent(name -> words.addAll(List.of("--operator", name)));
    words.addAll(notices.again());
    words.addAll(unattended ? List.of("--unattended") : List.of());
    words.addAll(confirmAbove60V ? List.of("--confirm-above-60V") : List.of());
    return CommandToType.of(words);
  }

  private Logbook kept(Logbook book) {
    writing = Optional.of(book);
    return book;
  }

  /** The message of a stopped run, perhaps before it has a logbook. */
  private String onceStopped(long run) {
    return writing
        .filter(book -> !book.isInPlace())
        .map(book -> elsewhere(book) + ", go on with: " + goOn(run))
        .orElseGet(() -> "Go on with: " + goOn(run));
  }

  /** The message of a signal states how to resume; any other cause must be removed first. */
  private RunOutcome orSaidHow(Night night, Logbook book, Supplier<RunOutcome> work) {
    try {
      return work.get();
    } catch (StoppedException e) {
      throw e;
    } catch (MillraceException e) {
      night.runs().stream()
          .findFirst()
          .ifPresent(run -> console.error(onceMended(book) + ", go on with: " + goOn(run)));
      throw e;
    }
  }

  /** The command line names the old path, where another logbook may be by now. */
  private static String onceMended(Logbook book) {
    return book.isInPlace() ? "Once that is mended" : elsewhere(book);
  }

  private static String elsewhere(Logbook book) {
    return ("What is at '%s' now is not the logbook of this run. Once that is back in its place,"
            + " with the files beside it")
        .formatted(book.path());
  }

  /** From here on the bench is locked, and the watchdog makes it safe if this process dies. */
  private WatchdogProcess guard(BenchSession setting, Logbook book) {
    setting.hold();
    return WatchdogProcess.of(
        setting, WatchdogProcess.words(bench.folder(), notices), book.path(), console);
  }

  private RunEndNotice ending(BenchSession setting, Logbook book, List<String> serials) {
    Notices telling = new Notices(notices.way(), console::error, setting.time());
    return RunEndNotice.of(telling, console, links::lost, String.join(" ", serials), book.path());
  }

  /** The stopping rule is fixed before a run begins. */
  private void refuseToBecomeAdaptive(RunSummary summary) {
    if (adaptive && summary.start().facts().decidesAtU().isEmpty()) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of("--adaptive"),
              "run %s was begun without it".formatted(summary.id()),
              "a run that was begun with adaptive stopping, whose U are fixed before it begins",
              "Resume it without --adaptive."));
    }
  }

  private static void refuseProduction(RunSummary summary) {
    if (summary.start().facts().purpose().isPresent()) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of("run " + summary.id()),
              "it is the test of a board in production, and the board was taken out since",
              "an interrupted run on a unit that stayed where it was",
              "Scan the board again in 'millrace production'."));
    }
  }

  /** The bench of an interrupted run: rebuilt from its seed, or opened from its bench file. */
  private BenchSession again(RunReader reader, RunSummary summary, BenchSession.Links to) {
    Optional<RunStart.Simulation> simulation = summary.start().simulation();
    Drivers drivers = bench.drivers();
    RunInputFile kept =
        reader.files().stream()
            .filter(f -> f.role() == FileRole.BENCH)
            .findFirst()
            .orElseThrow(() -> new IllegalStateException("a run without a bench file"));
    if (summary.start().origin() == RunOrigin.SIMULATED
        && simulation.filter(RunStart.Simulation::virtualTime).isPresent()) {
      refuseHurry(summary);
      VirtualClock clock = new VirtualClock(summary.start().startedAt(), reader.lastElapsed());
      SimulatedBenchSession again =
          SimulatedBenchSession.start(
              simulation.get().seed(),
              clock,
              RunInputs.of(reader).datasheet(),
              FaultPlan.NONE,
              List.copyOf(BenchForms.read(kept.name(), reader.content(kept)).slots().keySet()));
      return BenchSession.of(again, drivers, to);
    }
    byte[] content = bench.file().map(f -> changed(f, kept)).orElse(reader.content(kept));
    Surroundings around = new Surroundings(bench.clock(), person());
    return bench.hurriedOnly(
        BenchSession.ofFile(kept.name(), content, drivers, around, to), kept.name());
  }

  private void refuseHurry(RunSummary summary) {
    if (bench.hurried()) {
      throw new CommandLine.ParameterException(
          spec.commandLine(),
          "--speed without a bench; run %s is simulated in virtual time, as fast as it can"
              .formatted(summary.id()));
    }
  }

  private byte[] changed(Path file, RunInputFile kept) {
    byte[] content = YamlFile.bytes(file);
    if (!Hashes.sha256(content).equals(kept.sha256()) && !acceptChanged) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of(file.toString()),
              "this is not the bench file that the run began with",
              "a file of hash " + kept.sha256(),
              "Leave --bench out to use the kept one, or say --accept-changed."));
    }
    return content;
  }

  private OperatorAttendance attendance(
      StopRequest stop, List<String> cautions, RunEndNotice ending, WatchdogProcess guard) {
    List<RunObserver> observers =
        new ArrayList<>(List.of(guard, new Progress(console), ending.notices()));
    observers.addAll(ending.outlets());
    return new OperatorAttendance(
        new RunStart.People(operator, batch, tag),
        ending.notices().telling(questions()),
        observers,
        stop,
        new ArrayList<>(cautions));
  }

  private BenchOperator person() {
    return unattended || !console.interactive()
        ? BenchOperator.NOBODY
        : questions().person(operator.orElse(""));
  }

  /** One object for the questions of the sequence and those of instruments set by hand. */
  private Questions questions() {
    if (questions.isEmpty()) {
      questions = Optional.of(new Questions(console, unattended));
    }
    return questions.get();
  }
}
