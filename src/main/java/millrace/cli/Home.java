package millrace.cli;

import java.nio.file.Path;

/** Where the program's own files are: drivers, sequences, examples. */
final class Home {
  private Home() {}

  static Path path(String name) {
    return Path.of(System.getProperty("millrace.home", ".")).resolve(name);
  }
}
