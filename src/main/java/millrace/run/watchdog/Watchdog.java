package millrace.run.watchdog;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import millrace.bench.Bench;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.bench.BenchLock;
import millrace.bench.driver.Drivers;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.fault.InstrumentException;
import millrace.fault.MillraceException;
import millrace.fault.UnsafeBenchException;
import millrace.logbook.Logbook;
import millrace.logbook.RunWriter;
import millrace.time.SystemClock;
import millrace.time.TimeSource;

/**
 * Waits at the end of a pipe from the runner. If the pipe breaks without a goodbye the runner is
 * dead: the bench is put in its safe state by its file, and the logbook notes it. It is no safety
 * device: it dies with the machine. Single-threaded.
 */
public final class Watchdog {
  private static final int MOST_BYTES = 16_000_000;
  private static final Duration BETWEEN_TRIES = Duration.ofMillis(200);
  private static final int TRIES = 25;

  private final Drivers drivers;
  private final Path locks;
  private final Consumer<String> say;
  private final TimeSource time = new SystemClock();

  /**
   * A watchdog.
   *
   * @param drivers the drivers there are
   * @param locks where the bench locks of this user are
   * @param say where it says what it did
   */
  public Watchdog(Drivers drivers, Path locks, Consumer<String> say) {
    this.drivers = drivers;
    this.locks = locks;
    this.say = say;
  }

  /** The run that is under way. */
  private record Run(long number, Path logbook) {}

  /**
   * Waits for the end of the runner, and acts if it came without goodbye.
   *
   * @param pipe what the runner says
   * @throws IOException if the pipe cannot be read
   * @throws UnsafeBenchException if the safe state could not be confirmed
   */
  public void watch(InputStream pipe) throws IOException {
    String[] bench = line(pipe).orElse("").split(" ", 3);
    if (bench.length < 3 || !bench[0].equals(Leash.BENCH)) {
      return; // the runner never had a bench in its hands
    }
    byte[] content = pipe.readNBytes(Math.min(Integer.parseInt(bench[1]), MOST_BYTES));
    Optional<Run> run = Optional.empty();
    for (Optional<String> next = line(pipe); next.isPresent(); next = line(pipe)) {
      String[] words = next.get().split(" ", 3);
      if (words[0].equals(Leash.GOODBYE)) {
        return;
      } else if (words[0].equals(Leash.RUN)) {
        run = Optional.of(new Run(Long.parseLong(words[1]), Path.of(words[2])));
      }
    }
    act(BenchForms.read(bench[2], content), run);
  }

  /** A line; empty where the pipe ends, also in the middle of one. */
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
    say.accept("watchdog: the runner died without goodbye; the bench goes to its safe state.");
    BenchLock lock = lock(file);
    try (Bench bench = Bench.open(file, drivers, time)) {
      List<String> troubles =
          bench.makeSafe().stream()
              .filter(s -> s.trouble().isPresent())
              .map(s -> "'%s': %s".formatted(s.instrument(), s.trouble().orElseThrow()))
              .toList();
      String text =
          troubles.isEmpty()
              ? "the runner died without goodbye; the watchdog put the bench in its safe state"
              : "the runner died without goodbye; THE BENCH MAY NOT BE SAFE: "
                  + String.join("; ", troubles);
      say.accept("watchdog: " + text);
      run.ifPresent(r -> note(r, text));
      if (!troubles.isEmpty()) {
        throw new UnsafeBenchException(text + ". Switch these off by hand now.");
      }
    } finally {
      lock.close();
    }
  }

  /** The lock of the dead runner goes away with it, which may take a moment. */
  private BenchLock lock(BenchFile file) {
    for (int tried = 1; ; tried++) {
      try {
        return BenchLock.take(file, locks);
      } catch (InstrumentException e) {
        if (tried >= TRIES) {
          throw e;
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

  private void note(Run run, String text) {
    try (Logbook book = Logbook.open(run.logbook());
        RunWriter writer = book.resume(run.number())) {
      Duration elapsed = book.reader(run.number()).lastElapsed();
      writer.incident(
          new Incident(IncidentKind.SAFE_STATE, Optional.empty(), text, time.now(), elapsed));
    } catch (MillraceException e) {
      say.accept("watchdog: the logbook could not be told: " + e.getMessage());
    }
  }
}
