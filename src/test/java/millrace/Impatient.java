// SPDX-License-Identifier: Apache-2.0
package millrace;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Stream;

/** The shipped drivers, waiting no longer than a second for any reply. */
public final class Impatient {
  private Impatient() {}

  /**
   * Writes them.
   *
   * @param folder where a folder of drivers is made
   * @return that folder
   */
  public static Path drivers(Path folder) {
    return drivers(folder, "1 s");
  }

  /** The same waiting for as long as is said. */
  public static Path drivers(Path folder, String within) {
    Path drivers = folder.resolve("drivers");
    try (Stream<Path> all = Files.list(Path.of("drivers"))) {
      Files.createDirectories(drivers);
      for (Path each : all.filter(p -> p.toString().endsWith(".yaml")).toList()) {
        String text = Files.readString(each).replaceAll("(?m)^reply within:.*\n", "");
        String patched = text.replaceFirst("(?m)^driver:.*\n", "$0reply within: " + within + "\n");
        Files.writeString(drivers.resolve(each.getFileName()), patched);
      }
      return drivers;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
