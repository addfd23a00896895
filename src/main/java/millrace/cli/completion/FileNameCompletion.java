// SPDX-License-Identifier: Apache-2.0
package millrace.cli.completion;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.function.Predicate;
import java.util.stream.Stream;

/** Files and folders whose names begin with the typed text; folders end in a slash. */
final class FileNameCompletion {
  private FileNameCompletion() {}

  /** The file wanted is YAML, or any file. */
  static Predicate<Path> kindOf(String arg) {
    return switch (arg) {
      case "SEQUENCE", "DATASHEET", "--datasheet", "--bench", "--faults", "--sequence" ->
          f -> f.toString().endsWith(".yaml") || f.toString().endsWith(".yml");
      case "--logbook" -> f -> f.toString().endsWith(".db");
      default -> f -> true;
    };
  }

  static List<String> of(String typed, Predicate<Path> kind) {
    int slash = typed.lastIndexOf('/');
    String folder = typed.substring(0, slash + 1);
    boolean hidden = typed.startsWith(".", slash + 1);
    try (Stream<Path> all = Files.list(Path.of(folder.isEmpty() ? "." : folder))) {
      return all.filter(f -> Files.isDirectory(f) || kind.test(f))
          .filter(f -> hidden || !f.getFileName().toString().startsWith("."))
          .map(f -> folder + f.getFileName() + (Files.isDirectory(f) ? "/" : ""))
          .sorted()
          .toList();
    } catch (IOException noSuchFolder) {
      return List.of();
    }
  }
}
