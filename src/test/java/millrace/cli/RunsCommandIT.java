// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.sqlite.SQLiteJDBCLoader;

/** Which runs a bad instrument has touched. */
@Timeout(120)
class RunsCommandIT {
  @TempDir private Path folder;

  @Test
  void listsTheRunsThatAnInstrumentTookPartInSinceADay() throws IOException {
    Path sequence =
        Files.writeString(
            folder.resolve("s.yaml"),
            "sequence: s\\nreadings: {count: 3, line cycles: 1}\\nsteps: [{in ranges: 1mA, do: [zero]}]\\n"
                .replace("\\n", "\n"));
    String book = folder.resolve("r.db").toString();
    Spoken ran =
        Spoken.by(
            "run",
            sequence.toString(),
            "--simulated",
            "--unit",
            "FX3-00001",
            "--datasheet",
            "examples/fx-3.datasheet.yaml",
            "--logbook",
            book);
    assertTrue(ran.err().contains("safe state"), ran.err());
    assertTrue(listed(book, "--instrument", "ammeter"));
    assertTrue(listed(book, "--instrument", "ammeter", "--since", "2000-01-01"));
    assertEquals(0, Spoken.by("runs", "--since", "2999-01-01", "--logbook", book).code());
    assertFalse(listed(book, "--instrument", "ammeter", "--since", "2999-01-01"));
    assertTrue(listed(book, "--since", "1066-10-14", "--until", "2999-01-01"));
    assertFalse(listed(book, "--until", "2000-01-01"));
    assertFalse(listed(book, "--instrument", "another"));
    assertEquals(2, Spoken.by("runs", "--since", "yesterday", "--logbook", book).code());
    assertTrue(listed(book, "--unit", "FX3-00001"));
    assertFalse(listed(book, "--unit", "FX3-00002"));
    assertFalse(listed(book, "--batch", "B7"));
    assertFalse(listed(book, "--failed"));
    assertTrue(listed(book, "--text", "fx3-0"), "case does not matter");
    assertFalse(listed(book, "--text", "slipped"));
    String[] note = {"note", "1", "--logbook", book, "a lead had SLIPPED off"};
    assertEquals(0, Spoken.by(note).code());
    assertTrue(listed(book, "--text", "slipped"), "remarks count");
  }

  /** As where another process, which begins at the same time, has cleared it away before. */
  @Test
  void whatTheDatabaseLibraryCannotClearAwayIsNotTheUsersMatter() throws Exception {
    Path old =
        folder.resolve("sqlite-%s-old-libsqlitejdbc.so".formatted(SQLiteJDBCLoader.getVersion()));
    Files.createDirectory(old);
    Files.createFile(old.resolve("so that it cannot be deleted"));
    String book = folder.resolve("r.db").toString();
    Spoken.by("import", "examples/fx-3-by-hand.csv", "--logbook", book);
    RunProcess runs =
        RunProcess.with("-Dorg.sqlite.tmpdir=" + folder, folder, "runs", "--logbook", book);
    assertEquals(0, runs.ended());
    assertEquals("", runs.said());
    assertTrue(Files.readString(folder.resolve("out")).contains("FX3-00042"));
    assertTrue(Files.exists(old));
  }

  /** FX3-00001 of the practice bench is drawn with a range resistor that is far off. */
  @Test
  void saysWhatARunCameToAndWhatFailedFirst() {
    String book = folder.resolve("f.db").toString();
    Spoken practised =
        Spoken.typing(
            "FX3-00001\nFX3-00003\n",
            "production",
            "sequences/production-board-test.yaml",
            "--datasheet",
            "examples/fx-3.datasheet.yaml",
            "--simulated",
            "--operator",
            "Ada",
            "--shift",
            "early",
            "--logbook",
            book);
    assertTrue(practised.code() < 2, practised.err());
    Spoken runs = Spoken.by("runs", "--logbook", book);
    assertTrue(
        runs.out()
            .matches(
                "(?s).*\\n1 +fail +current error of 1uA +FX3-00001 .* Ada +SIMULATED .*"
                    + "\\n2 +pass +FX3-00003 .*"),
        runs.out());
    JsonNode failed =
        Schemas.json(Spoken.by("runs", "--failed", "--json", "--logbook", book).out());
    assertEquals(1, failed.at("/runs").size());
    assertEquals("fail", failed.at("/runs/0/outcome").asText());
    assertEquals("current_error", failed.at("/runs/0/failed_first/quantity").asText());
    assertEquals("1uA", failed.at("/runs/0/failed_first/range").asText());
  }

  private static boolean listed(String book, String... words) {
    String[] all = new String[words.length + 3];
    all[0] = "runs";
    System.arraycopy(words, 0, all, 1, words.length);
    all[words.length + 1] = "--logbook";
    all[words.length + 2] = book;
    return Spoken.by(all).out().contains("FX3-00001");
  }
}
