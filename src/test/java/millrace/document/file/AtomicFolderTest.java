// SPDX-License-Identifier: Apache-2.0
package millrace.document.file;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import millrace.fault.OutputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A folder of files that is whole or not there. */
class AtomicFolderTest {
  @TempDir Path folder;

  private List<String> there() throws IOException {
    try (Stream<Path> all = Files.list(folder)) {
      return all.map(p -> p.getFileName().toString()).sorted().toList();
    }
  }

  @Test
  void nothingStaysOfAFolderThatADiskDoesNotTake() throws IOException {
    Path target = folder.resolve("tables");
    OutputException e =
        assertThrows(
            OutputException.class,
            () ->
                AtomicFolder.write(
                    target,
                    "--tables",
                    draft -> {
                      Files.writeString(draft.resolve("a.csv"), "a\n");
                      throw new IOException("No space left on device");
                    }));
    assertEquals(
        target
            + ": it cannot be written whole (No space left on device); expected a disk that takes"
            + " it. What stood there before is untouched. Free some space, or name another file"
            + " with --tables.",
        e.getMessage());
    assertEquals(List.of(), there());
  }

  /** No process has the largest number. */
  @Test
  void whatAKilledProcessLeftGoesWithTheNextFolder() throws IOException {
    Path left = Files.createDirectory(folder.resolve(".old." + Integer.MAX_VALUE + ".part"));
    Files.writeString(left.resolve("a.csv"), "a\n");
    AtomicFolder.write(
        folder.resolve("tables"),
        "--tables",
        draft -> Files.writeString(draft.resolve("b.csv"), "b\n"));
    assertEquals(List.of("tables"), there());
    assertEquals("b\n", Files.readString(folder.resolve("tables/b.csv")));
  }
}
