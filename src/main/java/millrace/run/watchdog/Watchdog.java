// SPDX-License-Identifier: Apache-2.0
package millrace.run.watchdog;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Consumer;
import millrace.bench.Bench;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.bench.BenchLock;
import millrace.bench.driver.Drivers;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.fault.InstrumentException;
import millrace.fault.LogbookException;
import millrace.fault.MillraceException;
import millrace.fault.UnsafeBenchException;
import millrace.lock.LockHolder;
import millrace.logbook.Logbook;
import millrace.logbook.RunSummary;
import millrace.logbook.RunWriter;
import millrace.run.notice.Notices;
import millrace.time.SystemClock;
import millrace.time.TimeSource;

/**
 * Reads a pipe from the runner. If the pipe closes without the line that ends a run, the runner is
 * dead: the watchdog puts the bench in its safe state by its file, and notes that in the logbook.
 * It is no safety device: it fails together with the computer. Single-threaded.
 */
public final class Watchdog {
  private static final int MOST_BYTES = 16_000_000;
  private static final Duration BETWEEN_TRIES = Duration.ofMillis(200);

  /**
   * How long to wait for the bench: another process may be making it safe, which takes up to a
   * minute.
   */
  private static final int TRIES = 300;

  /** How an incident of a watchdog begins. */
  public static final String DIED = "the runner died without goodbye; ";

  /** How that incident continues if the bench is safe. */
  public static final String MADE_SAFE = "the watchdog put the bench in its safe state";

  private final Drivers drivers;
  private final Path locks;
  private final Notices.Way way;
  private final Consumer<String> say;
  private final TimeSource time = new SystemClock();

  /**
   * A watchdog of one runner.
   *
   * @param drivers the drivers there are
   * @param locks where the bench locks of this user are
   * @param way how people elsewhere are told
   * @param say where it says what it did
   */
  public Watchdog(Drivers drivers, Path locks, Notices.Way way, Consumer<String> say) {
    this.drivers = drivers;
    this.locks = locks;
    this.way = way;
    this.say = say;
  }

  /** The run in progress. */
  private record Run(long number, UUID uuid, Path logbook) {
    static Run read(String line) {
      String[] words = line.split(" ", 4);
      return new Run(Long.parseLong(words[1]), UUID.fromString(words[2]), Path.of(words[3]));
    }

    /** The unit. If the logbook file was replaced by another one, nothing is noted in it. */
    String unit() {
      try (Logbook book = Logbook.readOnly(logbook)) {
        RunSummary there = book.reader(number).summary();
        if (!there.uuid().equals(uuid)) {
          throw new LogbookException(
              "'%s' is another logbook than the one in which run %s was; expected that nobody moves it while a run writes it. Nothing was written into what is there now: put the old one back, with the files beside it."
                  .formatted(logbook, number));
        }
        return there.start().unit();
      }
    }
  }

  /**
   * Waits for the end of the runner, and acts if it died.
   *
   * @param pipe what the runner says
   * @throws IOException if the pipe cannot be read
   * @throws UnsafeBenchException if the safe state could not be confirmed
   */
  public void watch(InputStream pipe) throws IOException {
    String[] bench = line(pipe).orElse("").split(" ", 3);
    if (bench.length < 3 || !bench[0].equals(WatchdogPipe.BENCH)) {
      return; // the runner never opened a bench
    }
    byte[] content = pipe.readNBytes(Math.min(Integer.parseInt(bench[1]), MOST_BYTES));
    Optional<Run> run = Optional.empty();
    for (Optional<String> next = line(pipe); next.isPresent(); next = line(pipe)) {
      String[] words = next.get().split(" ", 3);
      if (words[0].equals(WatchdogPipe.GOODBYE)) {
        return;
      } else if (words[0].equals(WatchdogPipe.RUN)) {
        run = Optional.of(Run.read(next.get()));
      }
    }
    act(BenchForms.read(bench[2], content), run);
  }

  /** Reads a line; empty if the pipe ends, also in the middle of a line. */
  private static Optional<String> line(InputStream pipe) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    for (int next = pipe.read(); next >= 0; next = pipe.read()) {
      if (next == '\n') {
        return Optional.of(bytes.toString(StandardCharsets.UTF_8));
      }
      bytes.write(next);
    }
    return Optional.empty();
  }

  private void act(BenchFile file, Optional<Run> run) {
    Instant died = time.now();
    say.accept("watchdog: the runner died without goodbye; the bench goes to its safe state.");
    Optional<BenchLock> lock = lock(file);
    try {
      List<String> troubles = lock.isPresent() ? madeSafe(file) : List.of(inOtherHands(file));
      String what =
          troubles.isEmpty()
              ? MADE_SAFE
              : "THE BENCH MAY NOT BE SAFE: " + String.join("; ", troubles);
      say.accept("watchdog: " + DIED + what);
      run.ifPresent(r -> note(r, DIED + what, died));
      tell(run, died, what, troubles.isEmpty());
      if (!troubles.isEmpty()) {
        throw new UnsafeBenchException(DIED + what + ". Switch these off by hand now.");
      }
    } finally {
      lock.ifPresent(BenchLock::close);
    }
  }

  private List<String> madeSafe(BenchFile file) {
    try (Bench bench = Bench.open(file, drivers, time)) {
      return bench.makeSafe().stream()
          .filter(s -> s.trouble().isPresent())
          .map(s -> "'%s': %s".formatted(s.instrument(), s.trouble().orElseThrow()))
          .toList();
    }
  }

  /** Instruments that another run holds by now are not touched. */
  private String inOtherHands(BenchFile file) {
    return "it was left alone, as it is in the hands of "
        + BenchLock.holders(file, locks).stream()
            .map(LockHolder::who)
            .findFirst()
            .orElse("another Millrace");
  }

  /** Notices are sent as for any other end of a run. */
  private void tell(Optional<Run> run, Instant died, String what, boolean safe) {
    Notices notices = new Notices(way, text -> say.accept(text), time);
    run.ifPresent(r -> facts(r, notices));
    String at = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT).format(local(died));
    notices.tell(
        Notices.Event.FAILED,
        safe
            ? "the runner died at %s, the bench was made safe by the watchdog".formatted(at)
            : "the runner died at %s; %s".formatted(at, what));
    if (!safe) {
      notices.tell(
          Notices.Event.NEEDS_A_PERSON, "the bench may not be safe: go there now; " + what);
    }
  }

  private static ZonedDateTime local(Instant at) {
    return at.atZone(ZoneId.systemDefault());
  }

  private void facts(Run run, Notices notices) {
    notices.fact("MILLRACE_RUN", Long.toString(run.number()));
    notices.fact("MILLRACE_LOGBOOK", run.logbook().toString());
    try {
      notices.fact("MILLRACE_UNIT", run.unit());
    } catch (MillraceException e) {
      say.accept("watchdog: the unit is not known: " + e.getMessage());
    }
  }

  /** The operating system releases the lock of the dead runner, which may take a moment. */
  private Optional<BenchLock> lock(BenchFile file) {
    for (int tried = 1; ; tried++) {
      try {
        return Optional.of(
            BenchLock.take(
                file, locks, LockHolder.self().with(LockHolder.TASK, LockHolder.MAKES_SAFE)));
      } catch (InstrumentException e) {
        if (tried >= TRIES) {
          return Optional.empty();
        }
        pause();
      }
    }
  }

  private void pause() {
    try {
      time.sleep(BETWEEN_TRIES);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException("the watchdog was interrupted", e);
    }
  }

  private void note(Run run, String text, Instant died) {
    try {
      run.unit(); // before anything is opened for writing
      write(run, text, died);
    } catch (MillraceException e) {
      say.accept("watchdog: the logbook could not be written: " + e.getMessage());
    }
  }

  private static void write(Run run, String text, Instant died) {
    try (Logbook book = Logbook.open(run.logbook());
        RunWriter writer = book.resume(run.number())) {
      Duration elapsed = book.reader(run.number()).lastElapsed();
      writer.incident(new Incident(IncidentKind.SAFE_STATE, Optional.empty(), text, died, elapsed));
    }
  }
}
