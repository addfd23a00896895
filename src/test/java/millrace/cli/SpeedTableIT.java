// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedWriter;
import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import millrace.quantity.NumberText;
import millrace.time.Seeds;
import millrace.time.SystemClock;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * How long what a person waits for takes, beside a reference that does the least of the same: each
 * in a process of its own, in turn with its reference, the middle of several. Ratios are told and
 * not asserted; what is asserted is that everything ran. The whole table: {@code mvn verify
 * -Pbenchmark}, with {@code -Dmend=true} into {@code src/site/speed.md}.
 */
class SpeedTableIT {
  private static final List<String> QUICK = List.of("-XX:+UseSerialGC", "-XX:TieredStopAtLevel=1");
  private static final List<String> STEADY = List.of("-XX:+UseSerialGC");
  private static final int READINGS_A_POINT = 10;

  @TempDir Path folder;
  private final SystemClock clock = new SystemClock();
  private final List<String> rows = new ArrayList<>();

  /** How large everything is. */
  private record Size(int times, int imported, List<Integer> grown, int inLittleMemory) {}

  @Test
  void theTableIsMadeOfEverythingInSmall() throws IOException, InterruptedException {
    String table = table(new Size(1, 1_000, List.of(500, 1_000), 2_000));
    assertTrue(table.contains("| import of 1000 readings |"), table);
    kept("speed-in-small.md", table);
  }

  @Test
  @Tag("campaign")
  @Tag("benchmark")
  void theTable() throws IOException, InterruptedException {
    String table = table(new Size(5, 100_000, List.of(10_000, 100_000, 1_000_000), 3_000_000));
    kept("speed.md", table);
    if (Boolean.getBoolean("mend")) {
      Files.writeString(Path.of("src", "site", "speed.md"), table);
    }
  }

  private static void kept(String name, String table) throws IOException {
    Files.writeString(
        Files.createDirectories(Path.of("target", "benchmarks")).resolve(name), table);
  }

  private String table(Size size) throws IOException, InterruptedException {
    String small = readings("small", 60);
    String book = folder.resolve("small.db").toString();
    done(millrace(QUICK, "import", small, "--logbook", book));
    List<String> bare = java(QUICK, BareJava.class.getName());
    row(size, "`--version`", millrace(QUICK, "--version"), "bare Java", bare, "2.5");
    row(
        size,
        "`runs`, one run",
        millrace(QUICK, "runs", "--logbook", book),
        "bare Java",
        bare,
        "4");
    row(
        size,
        "`analyze` of a small run",
        millrace(QUICK, "analyze", "1", "--logbook", book),
        "bare Java",
        bare,
        "7");
    beside(size);
    grown(size);
    littleMemory(size);
    return head() + String.join("", rows);
  }

  private String head() {
    return """
    # Speed

    Each row in turn with its reference, the middle of several; %s, %s processors, Java %s, %s.

    | work | s | reference | s | ratio | asked |
    |---|---|---|---|---|---|
    """
        .formatted(
            System.getProperty("os.arch"),
            Runtime.getRuntime().availableProcessors(),
            Runtime.version().feature(),
            LocalDate.now(ZoneOffset.UTC));
  }

  /** The same rows, keys and checks into the same database by its own shell. */
  private void beside(Size size) throws IOException, InterruptedException {
    String work = "import of %s readings".formatted(size.imported);
    Path csv = Path.of(readings("beside", size.imported));
    Path script = folder.resolve("shell.sql");
    Path plain = folder.resolve("plain.db");
    Files.writeString(
        script,
        "CREATE TABLE reading (range TEXT NOT NULL, nominal_A REAL NOT NULL, current_A REAL NOT"
            + " NULL CHECK (abs(current_A) < 1), load_ohm REAL NOT NULL, temperature_degC REAL NOT"
            + " NULL, time_s REAL NOT NULL, PRIMARY KEY (range, time_s)) WITHOUT ROWID;\n"
            + ".import --csv --skip 1 '%s' reading\n".formatted(csv));
    List<String> ours =
        millrace(STEADY, "import", csv.toString(), "--logbook", folder.resolve("b.db").toString());
    if (!installed("sqlite3")) {
      rows.add("| %s |  | sqlite3 is not installed |  |  | 3 |%n".formatted(work));
      return;
    }
    List<String> shell = List.of("sqlite3", plain.toString(), ".read '%s'".formatted(script));
    row(size, work, ours, "sqlite3's import", shell, "3");
  }

  private static boolean installed(String name) {
    return Arrays.stream(System.getenv().getOrDefault("PATH", "").split(File.pathSeparator))
        .anyMatch(each -> Files.isExecutable(Path.of(each, name)));
  }

  /** Time by number of readings: on log axes a slope of 1 grows as the data do. */
  private void grown(Size size) throws IOException, InterruptedException {
    for (String work : List.of("import", "analyze", "report")) {
      List<Double> seconds = new ArrayList<>();
      for (int n : size.grown) {
        String book = folder.resolve("grown-" + n + ".db").toString();
        String page = folder.resolve("grown.html").toString();
        seconds.add(
            done(
                switch (work) {
                  case "import" ->
                      millrace(STEADY, "import", readings("g" + n, n), "--logbook", book);
                  case "analyze" -> millrace(STEADY, "analyze", "1", "--logbook", book);
                  default -> millrace(STEADY, "report", "1", "--logbook", book, "-o", page);
                }));
      }
      int last = seconds.size() - 1;
      double slope =
          Math.log(seconds.get(last) / seconds.get(last - 1))
              / Math.log((double) size.grown.get(last) / size.grown.get(last - 1));
      rows.add(
          "| `%s`, from %s to %s readings | %s | before | %s | slope %s | 1.05 |%n"
              .formatted(
                  work,
                  size.grown.get(last - 1),
                  size.grown.get(last),
                  seconds(seconds.get(last)),
                  seconds(seconds.get(last - 1)),
                  NumberText.significant(slope, 3)));
    }
  }

  private void littleMemory(Size size) throws IOException, InterruptedException {
    String csv = readings("many", size.inLittleMemory);
    String book = folder.resolve("many.db").toString();
    List<String> little = List.of("-XX:+UseSerialGC", "-Xmx64m");
    double took = done(millrace(little, "import", csv, "--logbook", book));
    rows.add(
        "| import of %s readings in a heap of 64 MiB | %s | |  | done | done |%n"
            .formatted(size.inLittleMemory, seconds(took)));
  }

  private void row(
      Size size, String work, List<String> ours, String name, List<String> reference, String asked)
      throws IOException, InterruptedException {
    double[] us = new double[size.times];
    double[] them = new double[size.times];
    for (int i = 0; i < size.times; i++) {
      forget();
      us[i] = done(ours);
      them[i] = done(reference);
    }
    Arrays.sort(us);
    Arrays.sort(them);
    double mine = us[size.times / 2];
    double least = them[size.times / 2];
    rows.add(
        "| %s | %s | %s | %s | %s | %s |%n"
            .formatted(
                work,
                seconds(mine),
                name,
                seconds(least),
                NumberText.significant(mine / least, 3),
                asked));
  }

  /** An import goes into a file that is not there yet. */
  private void forget() throws IOException {
    for (String name : List.of("b.db", "b.db-wal", "b.db-shm", "plain.db")) {
      Files.deleteIfExists(folder.resolve(name));
    }
  }

  private static String seconds(double s) {
    return NumberText.significant(s, 3);
  }

  private String readings(String name, int n) throws IOException {
    Path file = folder.resolve(name + ".csv");
    SplittableRandom random = new Seeds(3).stream("speed");
    try (BufferedWriter out = Files.newBufferedWriter(file)) {
      out.write("range,nominal_A,current_A,load_ohm,temperature_degC,time_s\n");
      for (int k = 0; k < n; k++) {
        int load = k / READINGS_A_POINT % 20;
        double i = 1e-3 * (1 - 1e-8 * load + 1e-6 * random.nextGaussian());
        out.write(String.format(Locale.ROOT, "1mA,0.001,%.12g,%d,23,%d%n", i, 50 * load, k));
      }
    }
    return file.toString();
  }

  private static List<String> millrace(List<String> options, String... words) {
    List<String> command = java(options, Main.class.getName());
    command.addAll(List.of(words));
    return command;
  }

  private static List<String> java(List<String> options, String main) {
    List<String> command = new ArrayList<>();
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.addAll(options);
    command.addAll(List.of("-cp", System.getProperty("java.class.path"), main));
    return command;
  }

  private double done(List<String> command) throws IOException, InterruptedException {
    Path said = folder.resolve("said.txt");
    ProcessBuilder builder =
        new ProcessBuilder(command).redirectErrorStream(true).redirectOutput(said.toFile());
    double from = clock.elapsed().toNanos() / 1e9;
    int code = builder.start().waitFor();
    double took = clock.elapsed().toNanos() / 1e9 - from;
    assertEquals(0, code, () -> command + ": " + read(said));
    return took;
  }

  private static String read(Path file) {
    try {
      return Files.readString(file);
    } catch (IOException e) {
      return e.getMessage();
    }
  }
}
