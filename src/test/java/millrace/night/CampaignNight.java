// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.SmallDisk;
import millrace.bench.driver.Drivers;
import millrace.bench.role.BenchOperator;
import millrace.cli.exit.ExitCode;
import millrace.evidence.Point;
import millrace.evidence.Reading;
import millrace.fault.LogbookException;
import millrace.fault.MillraceException;
import millrace.fault.StoppedException;
import millrace.fault.UnsafeBenchException;
import millrace.logbook.Logbook;
import millrace.logbook.RunFilter;
import millrace.logbook.RunStart;
import millrace.run.control.RunObserver;
import millrace.run.control.RunOutcome;
import millrace.run.control.StopRequest;
import millrace.sim.SimMeterReply;
import millrace.sim.SimulatedBench;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.SimFault;
import millrace.terminal.Console;
import millrace.terminal.Consoles;
import millrace.terminal.Questions;
import millrace.time.Seeds;
import millrace.time.VirtualClock;

/**
 * One night on a simulated bench in virtual time on which things go wrong; whatever ends it early,
 * a person comes half an hour later, makes the bench safe where it was said not to be, and resumes.
 */
final class CampaignNight {
  private static final Instant EVENING = Instant.parse("2026-11-25T18:00:00Z");
  private static final Duration SOMEBODY_COMES = Duration.ofMinutes(30);
  private static final int MOST_SESSIONS = 15;

  private final Settings settings;
  private final VirtualClock clock = new VirtualClock(EVENING);
  private final NightBlows blows;
  private final List<Shown> shown = new ArrayList<>();
  private final List<SimMeterReply> given = new ArrayList<>();
  private final List<String> struck = new ArrayList<>();
  private final List<String> mistreatments = new ArrayList<>();
  private final List<String> ends = new ArrayList<>();
  private Path logbook;
  private SimulatedBench bench;
  private StopRequest stop = new StopRequest(run -> "Go on with: millrace run --resume " + run);
  private boolean powerless;
  private int struckOnBench;

  /**
   * What a night is made of.
   *
   * @param inputs sequence and datasheet
   * @param drivers the folder of drivers
   * @param disk where the logbook is
   * @param benchSeed what bench and unit are drawn with
   * @param faults what goes wrong with the bench
   * @param blows what may happen to the run
   * @param within until when
   * @param seeds what the blows are drawn with
   */
  record Settings(
      RunInputs inputs,
      Path drivers,
      Disk disk,
      long benchSeed,
      FaultPlan faults,
      List<NightBlows.Kind> blows,
      Duration within,
      Seeds seeds) {}

  /** Where the logbook is, and the small disk if it is one. */
  record Disk(Path folder, Optional<SmallDisk> small) {}

  /** A point that was shown. */
  record Shown(Point point, List<Reading> readings) {}

  CampaignNight(Settings settings) {
    this.settings = settings;
    this.blows = new NightBlows(clock, settings.blows(), settings.within(), settings.seeds());
    this.logbook = settings.disk().folder().resolve("night.db");
    this.bench = started();
  }

  private SimulatedBench started() {
    SimulatedBench.Settings drawn =
        SimulatedBench.Settings.demo(new Seeds(settings.benchSeed())).with(settings.faults());
    struckOnBench = 0;
    return SimulatedBench.start(drawn, clock);
  }

  /** Takes the night to its end. */
  RunOutcome run() {
    try {
      for (int session = 1; session <= MOST_SESSIONS; session++) {
        Optional<RunOutcome> done = session();
        if (done.isPresent()) {
          ends.add("ended as planned");
          assertEquals(0, done.get().toGo());
          return done.get();
        }
        pass(SOMEBODY_COMES);
      }
      throw new AssertionError("not ended after %s sessions: %s".formatted(MOST_SESSIONS, ends));
    } finally {
      keepBench();
      bench.close();
    }
  }

  private void pass(Duration span) {
    try {
      clock.sleep(span);
    } catch (InterruptedException e) {
      throw new IllegalStateException("nobody interrupts a person who comes", e);
    }
  }

  private Optional<RunOutcome> session() {
    stop = new StopRequest(run -> "Go on with: millrace run --resume " + run);
    blows.armed(this::strike);
    try (Logbook book = Logbook.openOrCreate(logbook);
        BenchSession setting = setting()) {
      Night night = new Night(settings.inputs(), setting, book, attendance());
      return Optional.of(
          book.runs(RunFilter.ALL).isEmpty()
              ? night.begin(UnitUnderTest.of("FX3-00001"))
              : night.resume(book.reader(1), false));
    } catch (MillraceException e) {
      return afterwards(e);
    } catch (NightBlows.PowerCut e) {
      return poweredAgain();
    } finally {
      blows.disarmed();
      settings.disk().small().ifPresent(SmallDisk::clear);
    }
  }

  /** The bench is safe, or that it may not be was said; then a person switches it off. */
  private Optional<RunOutcome> afterwards(MillraceException e) {
    if (powerless) {
      return poweredAgain(); // what it met while it went down is not known to anybody
    }
    ends.add(kind(e));
    if (ExitCode.of(e) == ExitCode.UNSAFE) {
      try (BenchSession setting = setting()) {
        setting.bench().makeSafe();
      }
    }
    assertEquals(List.of(), bench.unsafe(), e.getMessage());
    return Optional.empty();
  }

  private static String kind(MillraceException e) {
    if (e instanceof StoppedException) {
      return "stopped by Ctrl-C";
    } else if (e instanceof LogbookException) {
      return "stopped by the logbook";
    } else if (e instanceof UnsafeBenchException || ExitCode.of(e) == ExitCode.UNSAFE) {
      return "stopped, safe state not confirmed";
    }
    return "stopped with exit code " + ExitCode.of(e).number();
  }

  private void strike(NightBlows.Kind kind) {
    struck.add(kind.name().toLowerCase(java.util.Locale.ROOT).replace('_', ' '));
    switch (kind) {
      case CTRL_C -> stop.stop(StoppedException.Signal.INT);
      case DISK_FULL -> settings.disk().small().ifPresent(SmallDisk::fill);
      case POWER_CUT -> {
        powerless = true;
        blows.disarmed();
        asItIs();
        throw new NightBlows.PowerCut();
      }
    }
  }

  /**
   * The logbook's files at this instant, which is all that a power cut leaves; what else filled the
   * disk goes with the power.
   */
  private void asItIs() {
    settings.disk().small().ifPresent(SmallDisk::clear);
    Path copy = logbook.resolveSibling("after-" + struck.size() + ".db");
    try {
      for (String end : List.of("", "-wal")) {
        Path from = logbook.resolveSibling(logbook.getFileName() + end);
        if (Files.exists(from)) {
          Files.copy(from, copy.resolveSibling(copy.getFileName() + end));
        }
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    logbook = copy;
    keepGiven();
  }

  private void keepGiven() {
    given.addAll(bench.given());
  }

  private void keepBench() {
    if (!powerless) {
      keepGiven();
    }
    mistreatments.addAll(bench.mistreatments());
    bench.struck().stream()
        .skip(struckOnBench)
        .map(s -> s.fault().kind().text())
        .forEach(struck::add);
  }

  private Optional<RunOutcome> poweredAgain() {
    ends.add("cut off");
    keepBench();
    bench.close();
    powerless = false;
    bench = started();
    return Optional.empty();
  }

  private BenchSession setting() {
    String text = SimulatedBenchFile.text(SimulatedBenchFile.sockets(bench), List.of("1"));
    return BenchSession.ofFile(
        "bench.yaml",
        // the disk is to be filled to its last byte
        text.replace("  free disk: 100 MB\n", "").getBytes(StandardCharsets.UTF_8),
        Drivers.load(settings.drivers()),
        blows,
        BenchOperator.NOBODY);
  }

  private OperatorAttendance attendance() {
    Console nobody =
        Consoles.of(
            new ByteArrayInputStream(new byte[0]),
            new PrintStream(new ByteArrayOutputStream(), true, StandardCharsets.UTF_8),
            new PrintStream(new ByteArrayOutputStream(), true, StandardCharsets.UTF_8),
            false);
    return new OperatorAttendance(
        RunStart.People.NONE, new Questions(nobody, true), List.of(watcher()), stop, List.of());
  }

  private RunObserver watcher() {
    return new RunObserver() {
      @Override
      public void committed(Point point, List<Reading> readings) {
        if (!powerless) {
          shown.add(new Shown(point, readings));
        }
      }
    };
  }

  Path logbook() {
    return logbook;
  }

  Duration took() {
    return clock.elapsed();
  }

  List<Shown> shown() {
    return shown;
  }

  List<SimMeterReply> given() {
    return given;
  }

  /** What struck, by its words. */
  List<String> struck() {
    return struck;
  }

  boolean struck(SimFault.Kind kind) {
    return struck.contains(kind.text());
  }

  List<String> mistreatments() {
    return mistreatments;
  }

  /** How each session ended. */
  List<String> ends() {
    return ends;
  }
}
