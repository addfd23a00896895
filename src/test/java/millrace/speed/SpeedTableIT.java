// SPDX-License-Identifier: Apache-2.0
package millrace.speed;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import millrace.Needs;
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
  private static final int TIMES = 5;
  private static final String BEGIN = "<!-- the table, by mvn verify -Pbenchmark -Dmend=true -->";
  private static final String END = "<!-- end of the table -->";

  /** Some parts alone, by their names, while one works on what they measure. */
  private static final List<String> ONLY =
      Stream.of(System.getProperty("millrace.speed", "").split(","))
          .filter(name -> !name.isBlank())
          .toList();

  private static final List<SpeedPart> PARTS =
      List.of(
          new StartSpeed(),
          new ImportSpeed(),
          new GrowthSpeed(),
          new ComparisonSpeed(),
          new MemorySpeed(),
          new TrialSpeed(),
          new TripSpeed(),
          new BoardSpeed(),
          new DemonstrationSpeed());

  @TempDir Path folder;

  @Test
  void theTableIsMadeOfEverythingInSmall() throws IOException, InterruptedException {
    Needs.program("bash");
    String table = made(new SpeedTable(folder, 1, false));
    assertTrue(!ONLY.isEmpty() || table.contains("| import of 1000 readings |"), table);
    kept("speed-in-small.md", table);
  }

  @Test
  @Tag("campaign")
  @Tag("benchmark")
  void theTable() throws IOException, InterruptedException {
    Needs.program("bash");
    String table = made(new SpeedTable(folder, TIMES, true));
    kept("speed.md", table);
    if (Boolean.getBoolean("mend") && ONLY.isEmpty()) {
      Path page = Path.of("src", "site", "speed.md");
      Files.writeString(page, between(Files.readString(page), table));
    }
  }

  /** The page with a new table between the lines that mark its place. */
  private static String between(String page, String table) {
    int from = page.indexOf(BEGIN);
    int to = page.indexOf(END);
    assertTrue(from >= 0 && to > from, "src/site/speed.md has no place for the table");
    return page.substring(0, from + BEGIN.length()) + "\n\n" + table + "\n" + page.substring(to);
  }

  private static String made(SpeedTable table) throws IOException, InterruptedException {
    for (SpeedPart part : PARTS) {
      if (ONLY.isEmpty() || ONLY.contains(part.getClass().getSimpleName())) {
        part.into(table);
      }
    }
    return table.toString();
  }

  private static void kept(String name, String table) throws IOException {
    Files.writeString(
        Files.createDirectories(Path.of("target", "benchmarks")).resolve(name), table);
  }
}
