// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import java.nio.file.Path;

/** The folder of the program's own files: drivers, sequences, examples. */
public final class InstallationFolder {
  private InstallationFolder() {}

  /**
   * A file or folder of the program's own.
   *
   * @param name the path from the installation folder, as {@code drivers}
   */
  public static Path path(String name) {
    return Path.of(System.getProperty("millrace.home", ".")).resolve(name);
  }
}
