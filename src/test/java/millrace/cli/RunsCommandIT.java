package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

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
