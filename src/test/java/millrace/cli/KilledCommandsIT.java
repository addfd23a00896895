// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import millrace.logbook.Logbook;
import millrace.logbook.OpenBook;
import millrace.logbook.RunFilter;
import millrace.logbook.RunSummary;
import millrace.time.Seeds;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * Commands in processes of their own that are killed without warning: within the first tenth of a
 * second of a logbook, in the middle of an import, a pack, a backup, a shift, Parquet files. The
 * next command works, what was told is there, and what was left half goes with it.
 */
class KilledCommandsIT {
  /** The kills look at the first so many milliseconds after something appeared. */
  private static final int FIRST_MS = 100;

  private static final int MOST_FILES = 3;

  @TempDir private Path folder;
  private int met;

  /** What is killed. */
  private enum Act {
    IMPORT("import", "examples/fx-3-by-hand.csv", "--datasheet", "examples/fx-3.datasheet.yaml"),
    RUN(
        "run",
        "sequences/quick-look.yaml",
        "--unit",
        "FX3-00042",
        "--datasheet",
        "examples/fx-3.datasheet.yaml",
        "--simulated"),
    PRODUCTION(
        "production",
        "sequences/production-board-test.yaml",
        "--datasheet",
        "examples/fx-3.datasheet.yaml",
        "--simulated",
        "--operator",
        "ANNE",
        "--shift",
        "early"),
    PACK("export", "1", "--pack", "out"),
    BACKUP("export", "--backup", "out"),
    PARQUET("export", "--all", "--parquet", "out");

    private final List<String> words;

    Act(String... words) {
      this.words = List.of(words);
    }

    /** Whether it makes the logbook; else it makes a file beside one. */
    boolean gives() {
      return this == PACK || this == BACKUP || this == PARQUET;
    }
  }

  private Path room() throws IOException {
    return Files.createTempDirectory(folder, "kill");
  }

  private static int files(Path room) throws IOException {
    try (var all = Files.list(room)) {
      return (int)
          all.map(p -> p.getFileName().toString())
              .filter(n -> n.contains("a.db") || n.contains("made"))
              .count();
    }
  }

  private void killed(Act act, SplittableRandom random) throws Exception {
    Path room = room();
    Path logbook = room.resolve("a.db");
    Path made = room.resolve("made");
    List<String> words = new ArrayList<>(act.words);
    words.replaceAll(w -> w.equals("out") ? made.toString() : w);
    words.addAll(List.of("--logbook", logbook.toString()));
    if (act.gives()) {
      Spoken.importExample(logbook.toString());
    }
    int before = files(room);
    int appear = before + 1 + random.nextInt(MOST_FILES);
    RunProcess process = RunProcess.start(room, words.toArray(String[]::new));
    while (process.process().isAlive() && files(room) < appear) {
      Thread.onSpinWait();
    }
    boolean ended =
        process.process().waitFor(random.nextInt(FIRST_MS * 1000), TimeUnit.MICROSECONDS);
    process.process().destroyForcibly().waitFor();
    met += ended ? 0 : 1;
    assertNextWorks(act, logbook, made);
  }

  private void assertNextWorks(Act act, Path logbook, Path made) throws IOException {
    if (Files.exists(logbook)) {
      Spoken.done("runs", "--logbook", logbook.toString());
    }
    Spoken.importExample(logbook.toString());
    if (act.gives()) {
      assertTrue(!Files.exists(made) || whole(made), "what is there is whole");
      if (Files.exists(made)) {
        OpenBook.deleteAll(made);
      }
    }
    Spoken.done("export", "--backup", made.toString(), "--logbook", logbook.toString());
    assertTrue(whole(made));
    try (var all = Files.list(logbook.getParent())) {
      assertFalse(all.anyMatch(p -> p.toString().contains(".part")), "a half file was left");
    }
  }

  /** A Parquet file begins and ends with the same four letters (its format's first section). */
  private static boolean wholeFolder(Path made) throws IOException {
    try (var all = Files.walk(made)) {
      List<Path> files = all.filter(Files::isRegularFile).toList();
      for (Path file : files) {
        String bytes = Files.readString(file, StandardCharsets.ISO_8859_1);
        assertTrue(bytes.startsWith("PAR1") && bytes.endsWith("PAR1"), file.toString());
      }
      return files.size() == 4;
    }
  }

  private static boolean whole(Path file) throws IOException {
    if (Files.isDirectory(file)) {
      return wholeFolder(file);
    }
    try (Logbook book = Logbook.readOnly(file)) {
      List<RunSummary> runs = book.runs(RunFilter.ALL);
      return runs.stream().allMatch(r -> book.verify(r.id()).faults().isEmpty());
    }
  }

  private void campaign(int kills) throws Exception {
    SplittableRandom random = new Seeds(kills).stream("kills of commands");
    int tried = 0;
    while (met < kills && tried < 4 * kills) {
      killed(Act.values()[tried++ % Act.values().length], random);
    }
    Path out = Files.createDirectories(Path.of("target", "verification"));
    Files.writeString(
        out.resolve("kills-of-commands-%s.txt".formatted(kills)),
        "%s kills met %s commands at work; every next command worked, nothing was left half%n"
            .formatted(tried, met));
  }

  @Test
  @Timeout(300)
  void theNextCommandWorksAfterAFewKills() throws Exception {
    campaign(5);
  }

  @Test
  @Tag("campaign")
  @Timeout(5400)
  void theNextCommandWorksAfterManyKills() throws Exception {
    campaign(200);
  }
}
