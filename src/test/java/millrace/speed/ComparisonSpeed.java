// SPDX-License-Identifier: Apache-2.0
package millrace.speed;

import static millrace.speed.TimedCommand.QUICK;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import millrace.speed.TimedCommand.Took;
import millrace.time.Seeds;

/**
 * A comparison of many units, beside plain SQL over the same readings: a mean, a sum of squares and
 * a count for each batch and range. Nothing judged before, then everything; by number of runs; in
 * little memory.
 */
final class ComparisonSpeed implements SpeedPart {
  private static final int UNITS = 1_000;
  private static final int IN_SMALL = 6;
  private static final int GROWTH = 5;
  private static final int BATCHES = 4;
  private static final List<String> RANGES = List.of("1mA", "100uA");
  private static final String DATASHEET = "examples/fx-3.datasheet.yaml";
  private static final List<String> LITTLE = List.of("-XX:+UseSerialGC", "-Xmx128m");
  private static final String SQL =
      "SELECT u.batch, p.\"range\", count(*), avg(r.value), sum(r.value * r.value) FROM run u"
          + " JOIN point p ON p.run_id = u.id JOIN reading r ON r.point_id = p.id"
          + " JOIN channel c ON c.id = r.channel_id WHERE c.signal = 'current' GROUP BY 1, 2";

  @Override
  public void into(SpeedTable table) throws IOException, InterruptedException {
    int few = table.size(UNITS, IN_SMALL);
    int many = few * GROWTH;
    Path small = imported(table, few);
    Path large = imported(table, many);
    row(table, "`compare` of %s runs, nothing judged before".formatted(few), small, "60");
    Took before = compare(small).done(table.folder());
    Took after = compare(large).done(table.folder());
    table.row(
        "`compare`, from %s to %s runs".formatted(few, many),
        SpeedTable.text(after),
        "before",
        SpeedTable.text(before),
        "slope " + SpeedTable.slope(before, after, GROWTH),
        "1.05");
    table.row(
        "`compare` of %s runs in a heap of 128 MiB".formatted(many),
        SpeedTable.text(
            TimedCommand.millrace(LITTLE, words(large)).whateverItsVerdict().done(table.folder())),
        "",
        "",
        "done",
        "done");
    judge(table, small, few);
    row(table, "`compare` of %s runs, judged before".formatted(few), small, "20");
  }

  private static void row(SpeedTable table, String work, Path book, String asked)
      throws IOException, InterruptedException {
    if (TimedCommand.installed("sqlite3")) {
      TimedCommand plain = TimedCommand.of("sqlite3", book.toString(), SQL);
      table.beside(work, compare(book), "plain SQL", plain, asked);
    } else {
      table.absent(work, "sqlite3 is not installed", asked);
    }
  }

  private static TimedCommand compare(Path book) throws IOException {
    return TimedCommand.launched(QUICK, words(book)).whateverItsVerdict();
  }

  private static String[] words(Path book) {
    List<String> words = new ArrayList<>(List.of("compare", "--logbook", book.toString()));
    IntStream.range(0, BATCHES).forEach(b -> words.addAll(List.of("--batch", "B" + b)));
    return words.toArray(String[]::new);
  }

  private static void judge(SpeedTable table, Path book, int units)
      throws IOException, InterruptedException {
    List<String> words = new ArrayList<>(List.of("analyze", "--logbook", book.toString()));
    IntStream.rangeClosed(1, units).forEach(run -> words.add(String.valueOf(run)));
    TimedCommand.millrace(QUICK, words.toArray(String[]::new))
        .whateverItsVerdict()
        .done(table.folder());
  }

  private static Path imported(SpeedTable table, int units)
      throws IOException, InterruptedException {
    Path csv = written(table.folder(), units);
    Path book = table.folder().resolve("units-" + units + ".db");
    TimedCommand.millrace(
            QUICK, "import", csv.toString(), "--datasheet", DATASHEET, "--logbook", book.toString())
        .done(table.folder());
    return book;
  }

  /** Five loads, three readings each, in two ranges of each unit. */
  private static Path written(Path folder, int units) throws IOException {
    SplittableRandom random = new Seeds(20).stream("units");
    Path file = folder.resolve("units-" + units + ".csv");
    try (BufferedWriter out = Files.newBufferedWriter(file)) {
      out.write("unit,batch,range,nominal_A,current_A,temperature_degC,load_ohm\n");
      for (int unit = 0; unit < units; unit++) {
        for (String range : RANGES) {
          double nominal = range.equals("1mA") ? 1e-3 : 1e-4;
          double off = 2e-5 * random.nextGaussian();
          for (int k = 0; k < 15; k++) {
            double i = nominal * (1 + off - 1e-7 * (k / 3) + 1e-6 * random.nextGaussian());
            double load = (1 + 2 * (k / 3)) / nominal;
            out.write(
                String.format(
                    Locale.ROOT,
                    "U%s,B%s,%s,%s,%.10g,23,%.0f%n",
                    String.valueOf(unit),
                    String.valueOf(unit % BATCHES),
                    range,
                    String.valueOf(nominal),
                    i,
                    load));
          }
        }
      }
    }
    return file;
  }
}
