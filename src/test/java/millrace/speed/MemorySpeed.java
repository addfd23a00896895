// SPDX-License-Identifier: Apache-2.0
package millrace.speed;

import static millrace.speed.TimedCommand.QUICK;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import millrace.quantity.NumberText;
import millrace.time.Seeds;

/**
 * Analyses in little memory: one long record, and nights of load sweeps at five temperatures; and
 * how large reports and logbooks become.
 */
final class MemorySpeed implements SpeedPart {
  private static final int RECORD = 1_000_000;
  private static final int NIGHT = 1_000_000;
  private static final int LONG_NIGHT = 3_000_000;
  private static final int POINTS = 100_000;
  private static final int IN_SMALL = 2_000;
  private static final int LOADS = 250;
  private static final double MEGABYTE = 1e6;

  @Override
  public void into(SpeedTable table) throws IOException, InterruptedException {
    int record = table.size(RECORD, IN_SMALL);
    int night = table.size(NIGHT, IN_SMALL);
    analyzed(table, "a record", written(table.folder(), "record", record, record), record, 64);
    analyzed(table, "a night", written(table.folder(), "night", night, 100), night, 128);
    int many = table.size(LONG_NIGHT, IN_SMALL + IN_SMALL);
    analyzed(table, "a long night", written(table.folder(), "nights", many, 100), many, 128);
    int readings = table.size(POINTS, IN_SMALL);
    report(table, written(table.folder(), "points", readings, 10), readings);
  }

  private static void analyzed(SpeedTable table, String what, Path csv, int n, int mebibytes)
      throws IOException, InterruptedException {
    String book = imported(table, csv);
    List<String> little =
        List.of("-XX:+UseSerialGC", "-XX:TieredStopAtLevel=1", "-Xmx" + mebibytes + "m");
    table.row(
        "`analyze` of %s of %s readings in a heap of %s MiB".formatted(what, n, mebibytes),
        SpeedTable.text(
            TimedCommand.millrace(little, "analyze", "1", "--logbook", book).done(table.folder())),
        "",
        "",
        "done",
        "done");
    table.row(
        "logbook of %s, bytes a reading".formatted(what),
        "",
        "its CSV file",
        "",
        bytes(Path.of(book), n) + "; " + bytes(csv, n),
        "60");
  }

  private static String bytes(Path file, int readings) throws IOException {
    return NumberText.significant((double) Files.size(file) / readings, 3);
  }

  private static void report(SpeedTable table, Path csv, int readings)
      throws IOException, InterruptedException {
    String book = imported(table, csv);
    Path page = table.folder().resolve("points.html");
    TimedCommand.Took took =
        TimedCommand.millrace(QUICK, "report", "1", "--logbook", book, "-o", page.toString())
            .done(table.folder());
    table.row(
        "`report` of %s points, MB".formatted(readings / 10),
        SpeedTable.text(took),
        "",
        "",
        NumberText.significant(Files.size(page) / MEGABYTE, 3),
        "2");
  }

  private static String imported(SpeedTable table, Path csv)
      throws IOException, InterruptedException {
    String book = csv.toString().replace(".csv", ".db");
    TimedCommand.millrace(QUICK, "import", csv.toString(), "--logbook", book).done(table.folder());
    return book;
  }

  private static Path written(Path folder, String name, int n, int ofPoint) throws IOException {
    Path file = folder.resolve(name + ".csv");
    SplittableRandom random = new Seeds(3).stream("memory");
    try (BufferedWriter out = Files.newBufferedWriter(file)) {
      out.write("range,nominal_A,current_A,load_ohm,temperature_degC,time_s\n");
      for (int k = 0; k < n; k++) {
        int load = ofPoint == n ? 1 : k / ofPoint % LOADS;
        int degC = ofPoint == n ? 23 : 23 + k / (ofPoint * LOADS) % 5 * 8;
        double i = 1e-3 * (1 + 2e-6 * (degC - 23) - 1e-8 * load + 1e-6 * random.nextGaussian());
        out.write(
            String.format(
                Locale.ROOT,
                "1mA,0.001,%.12g,%s,%s,%s%n",
                i,
                String.valueOf(30 * load),
                String.valueOf(degC),
                String.valueOf(k)));
      }
    }
    return file;
  }
}
