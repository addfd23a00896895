// SPDX-License-Identifier: Apache-2.0
package millrace.cli.run;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.Evaluations;
import millrace.bench.driver.Drivers;
import millrace.cli.exit.AssessmentExitCode;
import millrace.cli.exit.ExitCode;
import millrace.cli.exit.InternalErrorReport;
import millrace.cli.option.CommandToType;
import millrace.cli.option.InstallationFolder;
import millrace.document.FileMessageText;
import millrace.evidence.Version;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.logbook.Logbook;
import millrace.logbook.RunStart;
import millrace.night.BenchSession;
import millrace.night.MistreatedBench;
import millrace.night.Night;
import millrace.night.OperatorAttendance;
import millrace.night.RunInputs;
import millrace.night.UnitUnderTest;
import millrace.report.page.Report;
import millrace.run.control.RunOutcome;
import millrace.run.control.StopRequest;
import millrace.terminal.Console;
import millrace.terminal.Progress;
import millrace.terminal.Questions;
import millrace.terminal.StopSignals;
import millrace.time.SystemClock;
import millrace.time.VirtualClock;
import millrace.watch.WatchServer;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** A whole night on the simulated bench, from the first reading to the report. */
@Command(
    name = "demo",
    mixinStandardHelpOptions = true,
    description = {
      "Runs a whole night of characterization on a simulated bench: instruments reached over"
          + " sockets, every reading in a logbook, results with uncertainties, a report with"
          + " plots.",
      "Everything in it is simulated, and says so."
    },
    footer = {"", "Examples:", "  millrace demo", "  millrace demo --watch"})
public final class DemoCommand implements Callable<Integer> {
  private static final String UNIT = "FX3-00042";

  private static final int USUAL_SPEED = 60;

  private final Console console;

  @Option(
      names = {"-o", "--folder"},
      paramLabel = "FOLDER",
      description = "Where logbook and report go; ${DEFAULT-VALUE} unless given.")
  private Path folder = Path.of("millrace-demo");

  @Option(
      names = "--seed",
      paramLabel = "N",
      description = "Seed of the random errors of unit and bench; ${DEFAULT-VALUE} unless given.")
  private long seed = 1;

  @Option(
      names = "--watch",
      description =
          "Serves the night's page to a browser on this machine while it runs, slowly enough to be"
              + " seen, and afterwards until Ctrl-C.")
  private boolean watch;

  @Option(
      names = "--speed",
      paramLabel = "F",
      description =
          "How many times faster than real a watched night runs; "
              + USUAL_SPEED
              + " unless given, which takes some five minutes.")
  private Optional<Double> speed = Optional.empty();

  @Spec private CommandSpec spec;

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public DemoCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() throws InterruptedException {
    if (speed.isPresent() && !watch) {
      throw new CommandLine.ParameterException(
          spec.commandLine(),
          "--speed without --watch; expected both: a night that nobody watches takes seconds");
    }
    if (speed.filter(s -> !(s > 0)).isPresent()) {
      throw new CommandLine.ParameterException(
          spec.commandLine(), "--speed %s; expected a factor above 0".formatted(speed.get()));
    }
    make(folder);
    if (watch) {
      return watched();
    }
    night(new VirtualClock(new SystemClock().now()));
    return ExitCode.DONE.number();
  }

  /** The address comes first, so that a person can open the page before the run begins. */
  private int watched() throws InterruptedException {
    Path file = folder.resolve("demo.db");
    Logbook.openOrCreate(file).close();
    try (WatchServer server =
        WatchServer.start(
            WatchServer.Settings.here(file, 0),
            fault -> InternalErrorReport.report(fault, console))) {
      console.print("Open this in a browser: " + server.address() + "/");
      console.flush();
      night(VirtualClock.paced(new SystemClock().now(), speed.orElse((double) USUAL_SPEED)));
      console.error("The page is served until Ctrl-C.");
      console.flush();
      new CountDownLatch(1).await();
    }
    return ExitCode.DONE.number();
  }

  private void night(VirtualClock clock) {
    console.error(
        "SIMULATED: one night of characterizing the unit %s on a simulated bench, in virtual time."
            .formatted(UNIT));
    RunInputs inputs =
        RunInputs.read(
            InstallationFolder.path("sequences/overnight-characterization.yaml"),
            InstallationFolder.path("examples/fx-3.datasheet.yaml"));
    StopRequest stop =
        new StopRequest(
            run ->
                "Go on with: "
                    + CommandToType.of(
                        List.of(
                            "run",
                            "--resume",
                            Long.toString(run),
                            "--logbook",
                            CommandToType.path(folder.resolve("demo.db")))));
    try (StopSignals signals = StopSignals.into(stop, false, console);
        Logbook book = Logbook.openOrCreate(folder.resolve("demo.db"));
        BenchSession setting =
            BenchSession.simulated(
                seed,
                clock,
                inputs.datasheet(),
                Drivers.load(InstallationFolder.path("drivers")))) {
      signals.listening();
      RunOutcome outcome =
          new Night(inputs, setting, book, attendance(stop)).begin(UnitUnderTest.of(UNIT));
      setting.simulation().ifPresent(s -> MistreatedBench.tell(s, console));
      show(book, outcome.run());
    }
  }

  private OperatorAttendance attendance(StopRequest stop) {
    return new OperatorAttendance(
        new RunStart.People(Optional.empty(), Optional.empty(), Optional.of("demo")),
        new Questions(console, true),
        List.of(new Progress(console)),
        stop,
        List.of());
  }

  private void show(Logbook book, long run) {
    Assessment assessment = Assessor.assess(book.reader(run));
    Evaluations.save(book, assessment, Version.CURRENT, new SystemClock().now());
    Path report = folder.resolve("report-%s.html".formatted(run));
    Report.write(report, assessment, book.reader(run));
    new AssessmentExitCode(assessment).show(console);
    console.print("All results: " + CommandToType.onRun("analyze", run, book, "--all"));
    console.print("Logbook:     " + book.path());
    console.print("Report:      " + report.toAbsolutePath().normalize());
  }

  private static void make(Path folder) {
    try {
      Files.createDirectories(folder);
    } catch (IOException e) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of(folder.toString()),
              "the folder cannot be made (" + FileMessageText.reason(e) + ")",
              "a folder that can be written",
              "Name another with --folder."));
    }
  }
}
