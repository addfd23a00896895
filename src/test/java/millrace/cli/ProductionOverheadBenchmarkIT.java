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
import millrace.quantity.NumberText;
import millrace.sim.SimulatedBench;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.terminal.Consoles;
import millrace.time.Seeds;
import millrace.time.SystemClock;
import millrace.time.TimeSource;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * What the tool adds to a board's time, in real time: from the scan to the next prompt, against
 * what the simulated instruments book as busy. A benchmark: it prints the share into {@code
 * target/benchmarks} and asserts nothing about it.
 */
@Tag("campaign")
class ProductionOverheadBenchmarkIT {
  private static final String SHEET = "examples/fx-3.datasheet.yaml";
  private static final double PERCENT = 100;

  @TempDir Path folder;

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

  @Test
  void shareOfABoardsTimeThatIsNotItsInstruments() throws IOException {
    Path parts = Files.createDirectory(folder.resolve("parts"));
    Files.copy(Path.of("sequences/parts/board.yaml"), parts.resolve("board.yaml"));
    String shipped = Files.readString(Path.of("sequences/production-board-test.yaml"));
    board("as shipped", shipped);
  }

  private void board(String name, String sequence) throws IOException {
    Booked booked = new Booked();
    SimulatedBench.Settings settings =
        SimulatedBench.Settings.drawn(
            SimulatedBenchSpec.demo(),
            Map.of("1", SimulatedUnitFromDatasheet.of(DatasheetFile.read(Path.of(SHEET)))),
            new Seeds(1));
    try (SimulatedBench bench = SimulatedBench.start(settings, booked)) {
      String text = SimulatedBenchFile.text(SimulatedBenchFile.sockets(bench), List.of("1"));
      Path file = Files.writeString(folder.resolve("bench.yaml"), text);
      Path steps = Files.writeString(folder.resolve("board.yaml"), sequence);
      // The first board warms the program up, as in a shift; the second is measured.
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
                folder.resolve(name + ".db").toString()
              },
              Consoles.of(
                  scanner,
                  new PrintStream(out, true, UTF_8),
                  new PrintStream(err, true, UTF_8),
                  false));
      assertTrue(code < 2, out.toString(UTF_8) + err.toString(UTF_8));
      double wallS = seconds(scanner.asked.get(2).minus(scanner.asked.get(1)));
      double busyS = (booked.nanos.get() - before[0]) / 1e9;
      // A busy machine wakes sleepers late; that is not the tool's doing.
      double lateS = (booked.late.get() - before[1]) / 1e9;
      Path told = Files.createDirectories(Path.of("target", "benchmarks"));
      Files.writeString(
          told.resolve("production-overhead.csv"),
          "board,wall_s,instruments_busy_s,woken_late_s,beyond_percent%n%s,%s,%s,%s,%s%n"
              .formatted(
                  name,
                  NumberText.significant(wallS, 4),
                  NumberText.significant(busyS, 4),
                  NumberText.significant(lateS, 3),
                  NumberText.significant(PERCENT * (1 - busyS / wallS), 3)));
    }
  }

  private static double seconds(Duration d) {
    return d.toNanos() / 1e9;
  }
}
