// SPDX-License-Identifier: Apache-2.0
package millrace.speed;

import static millrace.speed.TimedCommand.STEADY;

import java.io.IOException;
import java.nio.file.Path;
import millrace.quantity.NumberText;

/** Monte Carlo trials of a run, in small of an import, beside the same analysis without trials. */
final class TrialSpeed implements SpeedPart {
  private static final int FEW = 60;
  private static final String ASKED_S = "30 s";

  @Override
  public void into(SpeedTable table) throws IOException, InterruptedException {
    boolean night = table.size(1, 0) > 0;
    String book = night ? night(table.folder()) : few(table.folder());
    // Once: at half a minute each, a middle of several would be most of the table.
    TimedCommand.Took tried = analyzed(table.folder(), book, "--monte-carlo");
    TimedCommand.Took plain = analyzed(table.folder(), book, "--all");
    table.row(
        night ? "Monte Carlo of the demonstration's night" : "Monte Carlo of a small run",
        SpeedTable.text(tried),
        "analysis without trials",
        SpeedTable.text(plain),
        NumberText.significant(tried.elapsedS() / plain.elapsedS(), 3)
            + "; "
            + NumberText.significant(tried.processorS() / plain.processorS(), 3),
        ASKED_S);
  }

  private static TimedCommand.Took analyzed(Path folder, String book, String how)
      throws IOException, InterruptedException {
    return TimedCommand.millrace(STEADY, "analyze", "1", "--logbook", book, how).done(folder);
  }

  private static String night(Path folder) throws IOException, InterruptedException {
    Path demo = folder.resolve("demo");
    TimedCommand.millrace(STEADY, "demo", "-o", demo.toString()).done(folder);
    return demo.resolve("demo.db").toString();
  }

  private static String few(Path folder) throws IOException, InterruptedException {
    String book = folder.resolve("tried.db").toString();
    String csv = ImportedReadings.written(folder, FEW).toString();
    TimedCommand.millrace(STEADY, "import", csv, "--logbook", book).done(folder);
    return book;
  }
}
