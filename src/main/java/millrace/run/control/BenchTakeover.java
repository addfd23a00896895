// SPDX-License-Identifier: Apache-2.0
package millrace.run.control;

import java.nio.file.Path;
import java.time.Duration;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Consumer;
import millrace.bench.BenchFile;
import millrace.bench.BenchLock;
import millrace.fault.InstrumentException;
import millrace.lock.LockHolder;
import millrace.run.control.RunRequestFile.Request;
import millrace.time.SystemClock;

/**
 * Takes a bench over from the process that holds its lock, so that it can be made safe and stays
 * safe. The holder is asked to stop and make the bench safe; if it does not in time, its process is
 * ended. Real time; single-threaded.
 */
public final class BenchTakeover {
  /** How long a holder has to stop once it was asked. */
  public static final Duration STOPS_WITHIN = Duration.ofSeconds(2);

  /** How long to wait until the bench is free: a watchdog may be making it safe. */
  private static final Duration FREE_WITHIN = Duration.ofSeconds(45);

  private static final Duration BETWEEN_LOOKS = Duration.ofMillis(50);

  /** The names under which a lock states the logbook of the run, its UUID and its request file. */
  private static final String LOGBOOK = "logbook";

  private static final String RUN = "run";
  private static final String REQUESTS = "requests";

  private final BenchFile bench;
  private final Path locks;
  private final Consumer<String> say;
  private final Map<String, Asked> asked = new HashMap<>();

  /** When a holder was asked, and whether its process was ended since. */
  private record Asked(SystemClock.Deadline deadline, boolean ended) {}

  /**
   * Takes one bench over.
   *
   * @param bench the bench
   * @param locks where the locks of this user are
   * @param say hears what is done
   */
  public BenchTakeover(BenchFile bench, Path locks, Consumer<String> say) {
    this.bench = bench;
    this.locks = locks;
    this.say = say;
  }

  /**
   * What the lock of a bench states while a run holds it.
   *
   * @param logbook the run's logbook
   * @param run its number there
   * @param uuid its number everywhere
   * @return this process, with the run and where it can be asked
   */
  public static LockHolder running(Path logbook, long run, UUID uuid) {
    return LockHolder.self()
        .with(LOGBOOK, logbook.toAbsolutePath().toString())
        .with(RUN, uuid.toString())
        .with(REQUESTS, RunRequestFile.of(logbook, run).file().toString());
  }

  /**
   * Takes the bench. A holder of whom nothing is known, such as another user of the machine, is not
   * waited for: the safe commands must go out at once.
   *
   * @return its lock; empty if the holder could not be made to release it
   */
  public Optional<BenchLock> take() {
    SystemClock.Deadline deadline = SystemClock.deadline(FREE_WITHIN);
    SystemClock.Deadline strangers = SystemClock.deadline(STOPS_WITHIN);
    do {
      Optional<BenchLock> lock = free();
      if (lock.isPresent()) {
        return lock;
      }
      Set<LockHolder> holders = BenchLock.holders(bench, locks);
      holders.forEach(this::stop);
      if (!holders.isEmpty()) {
        strangers = SystemClock.deadline(STOPS_WITHIN);
      }
      rest();
    } while (!deadline.passed() && !strangers.passed());
    return Optional.empty();
  }

  private Optional<BenchLock> free() {
    try {
      return Optional.of(
          BenchLock.take(
              bench, locks, LockHolder.self().with(LockHolder.TASK, LockHolder.MAKES_SAFE)));
    } catch (InstrumentException held) {
      return Optional.empty();
    }
  }

  private void stop(LockHolder holder) {
    Optional<ProcessHandle> process =
        holder.process().filter(p -> p.pid() != ProcessHandle.current().pid());
    if (process.isEmpty()
        || holder.fact(LockHolder.TASK).filter(LockHolder.MAKES_SAFE::equals).isPresent()) {
      return; // it ends by itself, is not ours, or is making the bench safe
    }
    Asked before = asked.get(holder.who());
    if (before == null) {
      ask(holder, process.get());
      asked.put(holder.who(), new Asked(SystemClock.deadline(STOPS_WITHIN), false));
    } else if (before.deadline().passed() && !before.ended()) {
      process.get().destroyForcibly();
      asked.put(holder.who(), new Asked(before.deadline(), true));
      say.accept(
          "%s did not stop within %s s and was ended; a run that it had can be resumed."
              .formatted(holder.who(), STOPS_WITHIN.toSeconds()));
    }
  }

  /**
   * A holder without a run, and so without a request file, gets the signal of the operating system.
   */
  private void ask(LockHolder holder, ProcessHandle process) {
    String runs =
        holder.fact(RUN).map(r -> ", run %s in %s".formatted(r, logbook(holder))).orElse("");
    say.accept(
        "the bench is in use by %s%s; it is asked to stop and make it safe."
            .formatted(holder.who(), runs));
    Optional<String> requests = holder.fact(REQUESTS);
    if (requests.isPresent()) {
      RunRequestFile.at(Path.of(requests.get())).ask(Request.STOP);
    } else {
      process.destroy();
    }
  }

  private static String logbook(LockHolder holder) {
    return holder.fact(LOGBOOK).orElse("its logbook");
  }

  private static void rest() {
    try {
      new SystemClock().sleep(BETWEEN_LOOKS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException("interrupted while a bench was waited for", e);
    }
  }
}
