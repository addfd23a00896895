package millrace.cli;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.Optional;
import java.util.WeakHashMap;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;

/**
 * Lines that a person types, read in a thread of their own so that whoever waits for one can be
 * interrupted: a read from a terminal cannot. All who ask at one console share it; a line that
 * comes too late for one question is the answer to the next. Thread-safe.
 */
final class Typed {
  private static final long SLICE_MS = 500;
  private static final Map<InputStream, Typed> BY_INPUT = new WeakHashMap<>();

  private final BufferedReader in;
  private final Semaphore wanted = new Semaphore(0);
  private final LinkedBlockingQueue<Read> read = new LinkedBlockingQueue<>();
  private int owed;

  /** A line, the end of the input, or why none could be read. */
  private record Read(Optional<String> line, Optional<IOException> trouble) {}

  private Typed(InputStream in) {
    this.in = new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8));
    Thread reader = new Thread(this::readOnDemand, "millrace-typed");
    reader.setDaemon(true);
    reader.start();
  }

  /** The lines of a console. */
  static Typed at(Console console) {
    synchronized (BY_INPUT) {
      return BY_INPUT.computeIfAbsent(console.in(), Typed::new);
    }
  }

  /** Nothing is read ahead: others may read the terminal too. */
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
      return new Read(Optional.ofNullable(in.readLine()), Optional.empty());
    } catch (IOException e) {
      return new Read(Optional.empty(), Optional.of(e));
    }
  }

  /**
   * Waits for a line.
   *
   * @param meanwhile done again and again; what it throws ends the waiting
   * @return it; empty at the end of the input
   */
  synchronized Optional<String> line(Runnable meanwhile) throws IOException, InterruptedException {
    if (owed == 0) {
      owed++;
      wanted.release();
    }
    Read next = read.poll(SLICE_MS, TimeUnit.MILLISECONDS);
    while (next == null) {
      meanwhile.run();
      next = read.poll(SLICE_MS, TimeUnit.MILLISECONDS);
    }
    owed--;
    if (next.trouble().isPresent()) {
      throw next.trouble().get();
    }
    return next.line();
  }
}
