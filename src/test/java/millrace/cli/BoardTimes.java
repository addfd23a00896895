// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.atomic.AtomicLong;
import millrace.datasheet.DatasheetFile;
import millrace.night.SimulatedBenchFile;
import millrace.night.SimulatedUnitFromDatasheet;
import millrace.sim.SimulatedBench;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.terminal.Consoles;
import millrace.time.Seeds;
import millrace.time.SystemClock;
import millrace.time.TimeSource;

/**
 * How long a board takes in real time, from the scan to the next prompt, and for how long of that
 * the simulated instruments were busy.
 *
 * @param wholeS from scan to prompt, s
 * @param busyS what the instruments book as busy, s
 * @param lateS by how much later than asked their sleeps ended, s: a busy machine's doing
 */
public record BoardTimes(double wholeS, double busyS, double lateS) {
  private static final String SHEET = "examples/fx-3.datasheet.yaml";

  /** The verdict of a board of which too little was read. */
  private static final int NOT_DECIDED = 7;

  /** A clock that adds up what is slept on it, and how much later than asked it woke. */
  private static final class Booked implements TimeSource {
    private final TimeSource real = new SystemClock();
    private final AtomicLong nanos = new AtomicLong();
    private final AtomicLong late = new AtomicLong();

    @Override
    public Instant now() {
      return real.now();
    }

    @Override
    public Duration elapsed() {
      return real.elapsed();
    }

    @Override
    public void sleep(Duration span) throws InterruptedException {
      long asked = Math.max(0, span.toNanos());
      nanos.addAndGet(asked);
      Duration before = real.elapsed();
      real.sleep(span);
      late.addAndGet(Math.max(0, real.elapsed().minus(before).toNanos() - asked));
    }
  }

  /** Lines of a scanner, and when each was asked for. */
  private static final class Scanner extends InputStream {
    private final List<byte[]> lines = new ArrayList<>();
    private final List<Duration> asked = new ArrayList<>();
    private final TimeSource clock;

    Scanner(TimeSource clock, String... scans) {
      this.clock = clock;
      for (String scan : scans) {
        lines.add((scan + "\n").getBytes(UTF_8));
      }
    }

    @Override
    public int read() {
      throw new IllegalStateException("scans are read line by line");
    }

    @Override
    public int read(byte[] into, int from, int most) {
      asked.add(clock.elapsed());
      if (lines.isEmpty()) {
        return -1;
      }
      byte[] line = lines.remove(0);
      System.arraycopy(line, 0, into, from, line.length);
      return line.length;
    }
  }

  /**
   * Tests two boards; the first warms the program up, as in a shift, the second counts.
   *
   * @param folder where bench file and logbook go
   * @param steps the sequence
   */
  public static BoardTimes of(Path folder, Path steps) throws IOException {
    Booked booked = new Booked();
    SimulatedBench.Settings settings =
        SimulatedBench.Settings.drawn(
            SimulatedBenchSpec.demo(),
            Map.of("1", SimulatedUnitFromDatasheet.of(DatasheetFile.read(Path.of(SHEET)))),
            new Seeds(1));
    try (SimulatedBench bench = SimulatedBench.start(settings, booked)) {
      String text = SimulatedBenchFile.text(SimulatedBenchFile.sockets(bench), List.of("1"));
      Path file = Files.writeString(folder.resolve("bench.yaml"), text);
      Scanner scanner = new Scanner(booked, "FX3-00001", "FX3-00002", "end");
      long[] before = {0, 0};
      ByteArrayOutputStream out =
          new ByteArrayOutputStream() {
            @Override
            public synchronized void flush() throws IOException {
              super.flush();
              if (scanner.asked.size() == 1) {
                before[0] = booked.nanos.get();
                before[1] = booked.late.get();
              }
            }
          };
      ByteArrayOutputStream err = new ByteArrayOutputStream();
      int code =
          Main.run(
              new String[] {
                "production",
                steps.toString(),
                "--datasheet",
                SHEET,
                "--bench",
                file.toString(),
                "--operator",
                "Ada",
                "--shift",
                "early",
                "--logbook",
                folder.resolve("boards.db").toString()
              },
              Consoles.of(
                  scanner,
                  new PrintStream(out, true, UTF_8),
                  new PrintStream(err, true, UTF_8),
                  false));
      assertTrue(code < 2 || code == NOT_DECIDED, out.toString(UTF_8) + err.toString(UTF_8));
      return new BoardTimes(
          seconds(scanner.asked.get(2).minus(scanner.asked.get(1))),
          (booked.nanos.get() - before[0]) / 1e9,
          (booked.late.get() - before[1]) / 1e9);
    }
  }

  private static double seconds(Duration d) {
    return d.toNanos() / 1e9;
  }
}
