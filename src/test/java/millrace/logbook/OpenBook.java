// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.extension.AfterEachCallback;
import org.junit.jupiter.api.extension.BeforeEachCallback;
import org.junit.jupiter.api.extension.ExtensionContext;

/** A logbook of its own for each test, in a folder of its own; both are gone afterwards. */
public final class OpenBook implements BeforeEachCallback, AfterEachCallback {
  private Path folder = Path.of("");
  private List<Logbook> open = List.of();

  @Override
  public void beforeEach(ExtensionContext context) throws IOException {
    folder = Files.createTempDirectory("book");
    open = List.of(Logbook.openOrCreate(folder.resolve("millrace.db")));
  }

  @Override
  public void afterEach(ExtensionContext context) throws IOException {
    open.forEach(Logbook::close);
    deleteAll(folder);
  }

  /** Takes a folder away with all that it holds. */
  public static void deleteAll(Path folder) throws IOException {
    try (Stream<Path> all = Files.walk(folder)) {
      all.sorted(Comparator.reverseOrder()).forEach(OpenBook::delete);
    }
  }

  private static void delete(Path file) {
    try {
      Files.delete(file);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The logbook. */
  public Logbook logbook() {
    return open.get(0);
  }

  /** Where it lies. */
  public Path folder() {
    return folder;
  }
}
