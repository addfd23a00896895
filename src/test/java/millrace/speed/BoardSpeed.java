// SPDX-License-Identifier: Apache-2.0
package millrace.speed;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import millrace.cli.BoardTimes;
import millrace.quantity.NumberText;

/**
 * A board in production, in real time and in this process, beside what its instruments are busy
 * for: what is left is scan, round trips, commits, verdict and label.
 */
final class BoardSpeed implements SpeedPart {
  private static final Path STEPS = Path.of("sequences", "production-board-test.yaml");
  private static final Path PART = Path.of("sequences", "parts", "board.yaml");

  @Override
  public void into(SpeedTable table) throws IOException {
    boolean whole = table.size(1, 0) > 0;
    Path folder = Files.createDirectories(table.folder().resolve("board").resolve("parts"));
    Files.writeString(
        folder.resolve("board.yaml"), whole ? part() : part().replace("all", "[1mA]"));
    String steps = Files.readString(STEPS);
    Path file =
        Files.writeString(
            folder.resolveSibling("board.yaml"),
            whole ? steps : steps.replace("{count: 5,", "{count: 3,"));
    BoardTimes times = BoardTimes.of(folder.getParent(), file);
    table.row(
        whole ? "a board in production, from scan to prompt" : "a board of one range",
        NumberText.significant(times.wholeS(), 4),
        "its instruments; and woken late",
        NumberText.significant(times.busyS(), 4) + "; " + NumberText.significant(times.lateS(), 3),
        NumberText.significant(times.wholeS() / times.busyS(), 4)
            + "; "
            + NumberText.significant(times.wholeS() / (times.busyS() + times.lateS()), 4),
        "1.02");
  }

  private static String part() throws IOException {
    return Files.readString(PART);
  }
}
