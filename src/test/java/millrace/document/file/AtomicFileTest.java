// SPDX-License-Identifier: Apache-2.0
package millrace.document.file;

import static java.nio.charset.StandardCharsets.US_ASCII;
import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import millrace.fault.BadInputException;
import millrace.fault.OutputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class AtomicFileTest {
  @TempDir Path folder;

  private static void write(Path target, String text) {
    AtomicFile.write(target, "-o", out -> out.write(text));
  }

  private List<Path> files() throws IOException {
    try (Stream<Path> all = Files.list(folder)) {
      return all.toList();
    }
  }

  @Test
  void whatStoodThereBeforeStaysUntilTheFileIsWhole() throws IOException {
    Path page = folder.resolve("a.html");
    write(page, "old");
    OutputException refused =
        assertThrows(
            OutputException.class,
            () ->
                AtomicFile.write(
                    page,
                    "-o",
                    out -> {
                      out.write("half");
                      throw new IOException("No space left on device");
                    }));
    assertEquals(
        page
            + ": it cannot be written whole (No space left on device); expected a disk that takes"
            + " it. What stood there before is untouched. Free some space, or name another file"
            + " with -o.",
        refused.getMessage());
    assertEquals("old", Files.readString(page));
    assertEquals(List.of(page), files());
    write(page, "new");
    assertEquals("new", Files.readString(page));
  }

  /** One wrong word behind -o, and the readings of a year would be gone. */
  @Test
  void aDatabaseIsNeverWrittenOver() throws IOException {
    Path logbook = folder.resolve("night.db");
    byte[] content = "SQLite format 3\0 and readings".getBytes(US_ASCII);
    Files.write(logbook, content);
    assertEquals(
        logbook
            + ": this is a database, as logbooks and packs are; expected a name for what is"
            + " written. Nothing was written over. Name another file with -o.",
        assertThrows(BadInputException.class, () -> write(logbook, "page")).getMessage());
    assertArrayEquals(content, Files.readAllBytes(logbook));
  }

  @Test
  void aDatasheetIsNeverWrittenOver() throws IOException {
    Path sheet = Files.writeString(folder.resolve("fx.datasheet.yaml"), "datasheet: FX");
    assertTrue(
        assertThrows(BadInputException.class, () -> write(sheet, "page"))
            .getMessage()
            .contains("there is a YAML file of this name already"));
    assertEquals("datasheet: FX", Files.readString(sheet));
  }

  @Test
  void aLinkGoesOnLeadingToItsFile() throws IOException {
    Path page = folder.resolve("a.html");
    write(page, "old");
    Path link = Files.createSymbolicLink(folder.resolve("latest.html"), page);
    write(link, "new");
    assertTrue(Files.isSymbolicLink(link));
    assertEquals("new", Files.readString(page));
  }

  @Test
  void aDeviceIsWrittenToAndNotReplaced() throws IOException {
    // A link of ours, so that a device is not at stake should this fail.
    Path link = Files.createSymbolicLink(folder.resolve("nowhere"), Path.of("/dev/null"));
    write(link, "page");
    assertTrue(Files.isSymbolicLink(link));
    assertEquals(List.of(link), files());
  }
}
