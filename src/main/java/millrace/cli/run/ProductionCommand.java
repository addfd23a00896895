// SPDX-License-Identifier: Apache-2.0
package millrace.cli.run;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import millrace.bench.role.BenchOperator;
import millrace.cli.exit.ExitCode;
import millrace.cli.exit.RunEndNotice;
import millrace.cli.option.BenchOptions;
import millrace.cli.option.BorrowedCoefficientsOption;
import millrace.cli.option.LogbookOption;
import millrace.cli.option.NoticeOptions;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.StoppedException;
import millrace.logbook.FixtureSetUp;
import millrace.logbook.Logbook;
import millrace.logbook.RunFacts;
import millrace.logbook.RunStart;
import millrace.logbook.StoreAddress;
import millrace.night.BatchElsewhere;
import millrace.night.BenchSession;
import millrace.night.BenchVoltageSources;
import millrace.night.BoardRunner;
import millrace.night.CautionConfirmation;
import millrace.night.MistreatedBench;
import millrace.night.Night;
import millrace.night.OperatorAttendance;
import millrace.night.ProductionScreens;
import millrace.night.RunInputs;
import millrace.night.SerialNumberCheck;
import millrace.night.SimulatedBenchSession;
import millrace.run.control.RunObserver;
import millrace.run.control.StopRequest;
import millrace.run.notice.Notices;
import millrace.run.production.BoardOutcome;
import millrace.run.production.ProductionLoop;
import millrace.run.production.ProductionRules;
import millrace.run.production.ProductionSummary;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.FaultPlanFile;
import millrace.terminal.Console;
import millrace.terminal.Progress;
import millrace.terminal.StopSignals;
import millrace.time.SystemClock;
import millrace.watch.shift.ShiftState;
import millrace.watch.shift.ShiftStation;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Tests board after board. */
@Command(
    name = "production",
    mixinStandardHelpOptions = true,
    sortOptions = false,
    description = {
      "Tests board after board: scan or type a serial number, read the outcome, scan the next."
          + " Keyboard and scanner are all it needs.",
      "The first result of a unit counts; a retest needs a cause. The bench is checked with a"
          + " reference unit before the first board and again as often as --check-every says.",
      "Words in place of a scan: 'end' ends the session, 'setup' tells of another fixture or cable"
          + " set, 'go' tests though slots are empty, 'help' or '?' tells this. On a simulated"
          + " bench it is practice: nothing is counted."
    },
    footer = {
      "",
      "Examples:",
      "  millrace production sequences/production-board-test.yaml \\",
      "      --datasheet fx-3.datasheet.yaml --bench bench.yaml --operator ANNE \\",
      "      --shift early --reference FX3-00001 --batch B7",
      "  millrace production sequences/production-board-test.yaml \\",
      "      --datasheet fx-3.datasheet.yaml --bench bench.yaml --operator ANNE \\",
      "      --shift early --reference FX3-00001 --batch B7 \\",
      "      --from 'jdbc:postgresql://HOST/millrace?user=bench_3'",
      "  millrace production sequences/production-board-test.yaml \\",
      "      --datasheet fx-3.datasheet.yaml --simulated --operator ANNE \\",
      "      --shift practice"
    })
public final class ProductionCommand implements Callable<Integer> {
  private static final int USUAL_CHECK_EVERY = 50;

  private final Console console;

  @Spec private CommandSpec spec;

  @Parameters(paramLabel = "SEQUENCE", description = "What is done with each board.")
  private Path sequence = Path.of("");

  @Option(
      names = "--datasheet",
      paramLabel = "FILE",
      required = true,
      description = "What the units promise.")
  private Path datasheet = Path.of("");

  @Mixin private BenchOptions bench = new BenchOptions();
  @Mixin private LogbookOption logbook = new LogbookOption();

  @Option(names = "--operator", paramLabel = "NAME", required = true, description = "Who tests.")
  private String operator = "";

  @Option(names = "--shift", paramLabel = "NAME", required = true, description = "Which shift.")
  private String shift = "";

  @Option(
      names = "--reference",
      paramLabel = "SN",
      description = {
        "The reference unit that checks the bench; needed on a real bench,",
        "here or as 'self-check' in the sequence."
      })
  private Optional<String> reference = Optional.empty();

  @Option(
      names = "--check-every",
      paramLabel = "N",
      description = "A check is due after so many boards; else as the sequence says, else 50.")
  private Optional<Integer> every = Optional.empty();

  @Option(names = "--fixture", paramLabel = "NAME", description = "The fixture at the start.")
  private String fixture = "fixture 1";

  @Option(names = "--cables", paramLabel = "NAME", description = "The cable set at the start.")
  private String cables = "cable set 1";

  @Option(names = "--batch", paramLabel = "NAME", description = "The batch the boards belong to.")
  private Optional<String> batch = Optional.empty();

  @Option(
      names = "--from",
      paramLabel = "ADDRESS",
      description = {
        "Hold each board against what other benches published of the batch to this store, too:",
        "jdbc:postgresql://HOST/DATABASE?user=NAME. Testing never waits for it."
      })
  private Optional<String> from = Optional.empty();

  @Option(names = "--tag", paramLabel = "NAME", description = "A word to find the runs by.")
  private Optional<String> tag = Optional.empty();

  @Mixin private BorrowedCoefficientsOption like = new BorrowedCoefficientsOption();
  @Mixin private NoticeOptions notices = new NoticeOptions();

  @Option(
      names = "--faults",
      paramLabel = "FILE",
      description = "What goes wrong on the simulated bench, and when: a YAML file.")
  private Optional<Path> faults = Optional.empty();

  @Mixin private ShiftPageOptions page = new ShiftPageOptions();

  @Option(
      names = "--confirm-above-60V",
      description = "Confirm beforehand that voltages above 60 V DC are guarded.")
  private boolean confirmAbove60V;

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public ProductionCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    bench.refuseNone(spec.commandLine());
    page.refuse(spec.commandLine());
    refuse(operator.isBlank() || shift.isBlank(), "--operator and --shift must not be blank");
    every.ifPresent(n -> refuse(n < 1, "--check-every " + n + "; expected 1 or more"));
    refuse(
        faults.isPresent() && !bench.simulated(), "--faults goes with --simulated: it is practice");
    refuse(
        from.isPresent() && batch.isEmpty(),
        "--from goes with --batch NAME: it is a batch that boards are held against");
    from.ifPresent(StoreAddress::of);
    RunInputs inputs = RunInputs.read(sequence, datasheet);
    refuseAdaptive(inputs);
    reference(inputs)
        .ifPresent(sn -> SerialNumberCheck.check("--reference", sn, inputs.datasheet()));
    return worked(inputs);
  }

  private void refuseAdaptive(RunInputs inputs) {
    if (inputs.loaded().sequence().adaptive()) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of(sequence.toString()),
              "it says 'adaptive: yes', which looks at the plan again between temperatures",
              "a sequence that does the same with every board",
              "Take that line out; 'first fail: stop' ends a board early that fails."));
    }
  }

  private void refuse(boolean wrong, String words) {
    if (wrong) {
      throw new CommandLine.ParameterException(spec.commandLine(), words);
    }
  }

  /**
   * The logbook, created only after the bench is open, can execute the plan, and the caution is
   * confirmed.
   */
  private Logbook logbookFor(RunInputs inputs, BenchSession setting, List<String> cautions) {
    BenchVoltageSources voltages = Night.check(inputs, setting, List.of(), console);
    cautions.addAll(
        new CautionConfirmation(console, false)
            .confirm(voltages, confirmAbove60V, bench.simulated()));
    setting.meet();
    refuse(
        !practice(setting) && reference(inputs).isEmpty(),
        "missing: --reference SN, or 'self-check' in the sequence."
            + " A real bench is checked with a reference unit.");
    return logbook.writeOrCreate();
  }

  private int worked(RunInputs inputs) {
    List<String> cautions = new ArrayList<>();
    FaultPlan plan = faults.map(FaultPlanFile::read).orElse(FaultPlan.NONE);
    StopRequest stop = StopRequest.amongBoards();
    Asked asked = new Asked();
    try (StopSignals signals = StopSignals.into(stop, false, console);
        BenchSession setting =
            bench.open(
                inputs.datasheet(), asked.person(operator), plan, SimulatedBenchSession.ONE);
        Logbook book = logbookFor(inputs, setting, cautions);
        WatchdogProcess guard = guard(setting, book);
        BatchElsewhere elsewhere = elsewhere(practice(setting))) {
      signals.listening();
      boolean practice = practice(setting);
      ProductionScreens screens = new ProductionScreens(console, practice, stop);
      ShiftState state = new ShiftState(shift, practice, ShiftPageOptions.entries(console));
      ShiftStation station = new ShiftStation(screens, state);
      asked.station = Optional.of(station);
      ProductionRules rules = rules(inputs, setting, practice);
      Notices telling = new Notices(notices.way(), console::error, setting.time());
      RunEndNotice ending =
          RunEndNotice.of(telling, console, Optional::empty, "shift " + shift, book.path());
      List<RunObserver> observers = new ArrayList<>(List.of(guard, new Progress(console), telling));
      observers.addAll(ending.outlets());
      OperatorAttendance attendance =
          new OperatorAttendance(
              people(practice), telling.telling(station), observers, stop, cautions);
      RunFacts facts = facts(rules).and(like.facts(book));
      BoardRunner runner = new BoardRunner(inputs, setting, book, attendance, facts, elsewhere);
      ProductionLoop loop =
          new ProductionLoop(rules, book, station, runner, new FixtureSetUp(fixture, cables, ""));
      try (ShiftPageOptions.Served served = page.serve(console, book.path(), state)) {
        observers.add(served.state());
        return ending.of(() -> ended(loop, screens, setting));
      }
    }
  }

  private static boolean practice(BenchSession setting) {
    return setting.remembered(setting.met()).isPresent();
  }

  /** From here on the bench is locked, and the watchdog makes it safe if this process dies. */
  private WatchdogProcess guard(BenchSession setting, Logbook book) {
    setting.hold();
    return WatchdogProcess.of(
        setting, WatchdogProcess.words(bench.folder(), notices), book.path(), console);
  }

  /** The person who sets instruments by hand: the operator, once the screens exist. */
  private static final class Asked {
    private Optional<ShiftStation> station = Optional.empty();

    BenchOperator person(String name) {
      return question ->
          new BenchOperator.Answer(
              station.map(s -> s.ask(question)).orElse("nobody was there"), name);
    }
  }

  private ExitCode ended(ProductionLoop loop, ProductionScreens screens, BenchSession setting) {
    ProductionSummary summary;
    try {
      summary = loop.work();
    } catch (StoppedException e) {
      screens.end(loop.soFar().tally());
      throw e;
    }
    screens.end(summary.tally());
    setting.simulation().ifPresent(s -> MistreatedBench.tell(s, console));
    return code(summary);
  }

  /** An option takes precedence over the sequence. */
  private Optional<String> reference(RunInputs inputs) {
    return reference.or(() -> inputs.loaded().sequence().production().reference());
  }

  private int every(RunInputs inputs) {
    return every
        .or(() -> inputs.loaded().sequence().production().every())
        .orElse(USUAL_CHECK_EVERY);
  }

  private ProductionRules rules(RunInputs inputs, BenchSession setting, boolean practice) {
    return new ProductionRules(
        inputs.datasheet(),
        new SystemClock().now().toString(),
        practice,
        reference(inputs).map(sn -> new ProductionRules.SelfCheck(sn, every(inputs))),
        List.copyOf(setting.bench().file().slots().keySet()));
  }

  /** What is practised is never held against real units. */
  private BatchElsewhere elsewhere(boolean practice) {
    if (practice && from.isPresent()) {
      console.error("--from is left out: what is practised is not held against real units.");
    }
    return BatchElsewhere.of(
        practice ? Optional.empty() : from.map(StoreAddress::of), batch.orElse(""));
  }

  /** Practice belongs to no batch. */
  private RunStart.People people(boolean practice) {
    if (practice && batch.isPresent()) {
      console.error("--batch is left out: what is practised belongs to no batch of units.");
    }
    return new RunStart.People(Optional.of(operator), practice ? Optional.empty() : batch, tag);
  }

  private RunFacts facts(ProductionRules rules) {
    return RunFacts.NONE.inSession(shift, rules.session(), rules.sheet().name());
  }

  private static ExitCode code(ProductionSummary summary) {
    if (summary.checkFailed() || summary.seen().contains(BoardOutcome.FAIL)) {
      return ExitCode.FAIL;
    }
    boolean open =
        summary.seen().contains(BoardOutcome.NOT_JUDGED)
            || summary.seen().contains(BoardOutcome.ABORTED);
    return open ? ExitCode.INCOMPLETE : ExitCode.DONE;
  }
}
