// SPDX-License-Identifier: Apache-2.0
package millrace.speed;

import static millrace.speed.TimedCommand.QUICK;

import java.io.IOException;
import java.nio.file.Path;

/** Commands that are over soon, beside a virtual machine that says hello. */
final class StartSpeed implements SpeedPart {
  private static final int FEW = 60;

  @Override
  public void into(SpeedTable table) throws IOException, InterruptedException {
    Path small = ImportedReadings.written(table.folder(), FEW);
    String book = table.folder().resolve("small.db").toString();
    TimedCommand.millrace(QUICK, "import", small.toString(), "--logbook", book)
        .done(table.folder());
    start(table, "`--version`", "2.5", "--version");
    start(table, "`runs`, one run", "4", "runs", "--logbook", book);
    start(table, "`analyze` of a small run", "7", "analyze", "1", "--logbook", book);
  }

  private static void start(SpeedTable table, String work, String asked, String... words)
      throws IOException, InterruptedException {
    TimedCommand bare = TimedCommand.java(QUICK, BareJava.class.getName());
    table.beside(work, TimedCommand.millrace(QUICK, words), "bare Java", bare, asked);
  }
}
