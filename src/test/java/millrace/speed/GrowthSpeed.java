// SPDX-License-Identifier: Apache-2.0
package millrace.speed;

import static millrace.speed.TimedCommand.STEADY;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import millrace.speed.TimedCommand.Took;

/**
 * Time by number of readings: on log axes a slope of 1 grows as the data do. {@code
 * -Dmillrace.growth=3} goes one step further, to 1e7, which takes some minutes more.
 */
final class GrowthSpeed implements SpeedPart {
  private static final int READINGS = 10_000;
  private static final int IN_SMALL = 500;
  private static final int GROWTH = 10;
  private static final int STEPS = Integer.getInteger("millrace.growth", 2);

  @Override
  public void into(SpeedTable table) throws IOException, InterruptedException {
    for (String work : List.of("import", "analyze", "report")) {
      int less = table.size(READINGS, IN_SMALL);
      Took before = command(table, work, less).done(table.folder());
      for (int step = 0; step < table.size(STEPS, 1); step++) {
        int more = less * GROWTH;
        Took after = command(table, work, more).done(table.folder());
        table.row(
            "`%s`, from %s to %s readings".formatted(work, less, more),
            SpeedTable.text(after),
            "before",
            SpeedTable.text(before),
            "slope " + SpeedTable.slope(before, after, GROWTH),
            "1.05");
        less = more;
        before = after;
      }
    }
  }

  private static TimedCommand command(SpeedTable table, String work, int n) throws IOException {
    Path folder = table.folder();
    String book = folder.resolve("grown-" + n + ".db").toString();
    String page = folder.resolve("grown.html").toString();
    return switch (work) {
      case "import" ->
          TimedCommand.imported(n, ImportedReadings.written(folder, n).toString(), book);
      case "analyze" -> TimedCommand.millrace(STEADY, "analyze", "1", "--logbook", book);
      default -> TimedCommand.millrace(STEADY, "report", "1", "--logbook", book, "-o", page);
    };
  }
}
