// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.SplittableRandom;
import millrace.quantity.NumberText;
import millrace.time.Seeds;
import millrace.time.SystemClock;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * How long {@code analyze} takes over a run of a million readings, as a process of its own in the
 * default heap: one long record, and a night of load sweeps. A benchmark: it prints seconds into
 * {@code target/benchmarks}, beside those of {@code --version}, and asserts nothing about them.
 */
@Tag("campaign")
class AnalyzeBenchmarkIT {
  private static final int N = 1_000_000;
  private static final int READINGS = 100;
  private static final int LOADS = 250;

  @TempDir Path folder;
  private final SystemClock clock = new SystemClock();

  private void write(Path file, boolean night) throws IOException {
    SplittableRandom random = new Seeds(3).stream("million");
    try (BufferedWriter out = Files.newBufferedWriter(file)) {
      out.write("range,nominal_A,current_A,load_ohm,temperature_degC,time_s\n");
      for (int k = 0; k < N; k++) {
        int load = night ? k / READINGS % LOADS : 1;
        int degC = night ? 23 + k / (READINGS * LOADS) % 5 * 8 : 23;
        double i = 1e-3 * (1 + 2e-6 * (degC - 23) - 1e-8 * load + 1e-6 * random.nextGaussian());
        out.write(String.format(Locale.ROOT, "1mA,0.001,%.12g,%d,%d,%d%n", i, 30 * load, degC, k));
      }
    }
  }

  /** As the launcher starts it. */
  private double seconds(String... words) throws IOException, InterruptedException {
    ProcessBuilder builder =
        new ProcessBuilder(
            Path.of(System.getProperty("java.home"), "bin", "java").toString(),
            "-XX:+UseSerialGC",
            "-XX:TieredStopAtLevel=" + (words[0].equals("import") ? 4 : 1),
            "-cp",
            System.getProperty("java.class.path"),
            "millrace.cli.Main");
    builder.command().addAll(java.util.List.of(words));
    builder.redirectErrorStream(true).redirectOutput(folder.resolve("out.txt").toFile());
    double from = clock.elapsed().toNanos() / 1e9;
    assertEquals(0, builder.start().waitFor(), Files.readString(folder.resolve("out.txt")));
    return clock.elapsed().toNanos() / 1e9 - from;
  }

  @Test
  void measuresAnalyzeOverAMillionReadings() throws IOException, InterruptedException {
    StringBuilder lines = new StringBuilder("what,seconds,ratio_to_version\n");
    double start = seconds("--version");
    for (boolean night : new boolean[] {false, true}) {
      String name = night ? "night" : "record";
      Path file = folder.resolve(name + ".csv");
      write(file, night);
      String logbook = folder.resolve(name + ".db").toString();
      double importing = seconds("import", file.toString(), "--logbook", logbook, "--quiet");
      double analyzing = seconds("analyze", "1", "--logbook", logbook, "--json");
      lines.append(line("import of a " + name, importing, start));
      lines.append(line("analyze of a " + name, analyzing, start));
    }
    Path out = Files.createDirectories(Path.of("target", "benchmarks"));
    Files.writeString(out.resolve("analyze-million-readings.csv"), lines);
  }

  private static String line(String what, double seconds, double start) {
    return "%s,%s,%s%n"
        .formatted(
            what, NumberText.significant(seconds, 3), NumberText.significant(seconds / start, 3));
  }
}
