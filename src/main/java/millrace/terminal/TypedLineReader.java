// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.WeakHashMap;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import millrace.time.BackgroundThreads;
import millrace.time.SystemClock;

/**
 * Reads typed lines in a thread of its own, so that a wait for a line can be interrupted: a read
 * from a terminal cannot. All questions at one console share the reader; a line that is too late
 * for one question answers the next.
 *
 * <p>At a terminal a line typed before a question was shown does not answer it. Otherwise a board
 * scanned during the test of another would count as the next one, and a key pressed twice would
 * confirm a task that nobody has read. A scanner that ends its line by CR and LF presses Enter
 * twice: the second Enter is no answer either. Thread-safe.
 */
public final class TypedLineReader {
  private static final long SLICE_MS = 500;

  /** Shorter than a person needs to read a question and answer it. */
  private static final Duration ONE_STROKE = Duration.ofMillis(50);

  private static final Map<InputStream, TypedLineReader> BY_INPUT = new WeakHashMap<>();

  private final SystemClock clock = new SystemClock();
  private final BufferedReader in;
  private final boolean terminal;
  private final Semaphore wanted = new Semaphore(0);
  private final LinkedBlockingQueue<Read> read = new LinkedBlockingQueue<>();
  private Read last = new Read(Optional.empty(), Optional.empty(), Duration.ZERO, true);
  private int owed;

  /**
   * A line, the end of the input, or the reason of a failed read; with its time, and whether it
   * came from a read of the input.
   */
  private record Read(
      Optional<String> line, Optional<IOException> trouble, Duration at, boolean typed) {
    boolean blank() {
      return line.filter(String::isBlank).isPresent();
    }
  }

  /**
   * Lines of an input.
   *
   * @param terminal true if a person types now, false if the whole input may exist already
   */
  TypedLineReader(InputStream in, boolean terminal) {
    this.terminal = terminal;
    this.in = new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8));
    BackgroundThreads.of("millrace-typed", this::readOnDemand).start();
  }

  /** The lines of a console. */
  public static TypedLineReader at(Console console) {
    synchronized (BY_INPUT) {
      boolean terminal = console.interactive() && console.in() == System.in;
      return BY_INPUT.computeIfAbsent(console.in(), in -> new TypedLineReader(in, terminal));
    }
  }

  /** Nothing is read ahead: other processes may read the terminal too. */
  private void readOnDemand() {
    try {
      while (true) {
        wanted.acquire();
        read.add(next());
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private Read next() {
    try {
      String line = in.readLine();
      return new Read(
          Optional.ofNullable(line).map(TerminalKeySequences::without),
          Optional.empty(),
          clock.elapsed(),
          true);
    } catch (IOException e) {
      return new Read(Optional.empty(), Optional.of(e), clock.elapsed(), true);
    }
  }

  /**
   * Discards the lines typed at a terminal so far; called before a question is shown.
   *
   * @return the discarded lines, without empty ones
   */
  public synchronized List<String> fresh() throws IOException {
    List<String> forgotten = new ArrayList<>();
    if (!terminal) {
      return forgotten;
    }
    for (Read late : List.copyOf(read)) {
      if (late.typed() && read.remove(late)) {
        owed--;
        late.line().ifPresent(forgotten::add);
      }
    }
    // While a line is outstanding, the reading thread waits at the input.
    while (owed == 0 && in.ready()) {
      forgotten.add(TerminalKeySequences.without(Optional.ofNullable(in.readLine()).orElse("")));
    }
    forgotten.removeIf(String::isBlank);
    return forgotten;
  }

  /**
   * Answers the waiting reader with a line entered elsewhere, such as on a page, by a person who
   * saw the question.
   *
   * @param line the line
   */
  public void enter(String line) {
    read.add(new Read(Optional.of(line), Optional.empty(), clock.elapsed(), false));
  }

  /** Discards a line that was entered elsewhere and not read, because the input was faster. */
  public void withdraw() {
    read.removeIf(r -> !r.typed());
  }

  /**
   * Waits for a line.
   *
   * @param meanwhile called repeatedly during the wait; an exception from it ends the wait
   * @return the line; empty at the end of the input
   */
  public synchronized Optional<String> line(Runnable meanwhile)
      throws IOException, InterruptedException {
    Read next = awaited(meanwhile);
    while (terminal && sameStroke(next)) {
      next = awaited(meanwhile);
    }
    last = next;
    if (next.trouble().isPresent()) {
      throw next.trouble().get();
    }
    return next.line();
  }

  private boolean sameStroke(Read next) {
    return next.blank()
        && last.line().isPresent()
        && !last.blank()
        && next.at().minus(last.at()).compareTo(ONE_STROKE) < 0;
  }

  private Read awaited(Runnable meanwhile) throws InterruptedException {
    if (owed == 0) {
      owed++;
      wanted.release();
    }
    Read next = read.poll(SLICE_MS, TimeUnit.MILLISECONDS);
    while (next == null) {
      meanwhile.run();
      next = read.poll(SLICE_MS, TimeUnit.MILLISECONDS);
    }
    owed -= next.typed() ? 1 : 0;
    return next;
  }
}
