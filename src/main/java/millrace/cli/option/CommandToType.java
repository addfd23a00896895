// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import java.io.File;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import millrace.logbook.Logbook;

/** Command lines for a person to type: quoted, with the name by which the program was called. */
public final class CommandToType {
  private static final String PLAIN = "[A-Za-z0-9_./:@%+,=\\\\-]+";

  private CommandToType() {}

  /** The program and its words, each quoted for the shell of this system. */
  public static String of(List<String> words) {
    String program = System.getProperty("millrace.command", "millrace");
    return word(program) + words.stream().map(w -> " " + word(w)).collect(Collectors.joining());
  }

  /** A path as a word that no parser takes for an option. */
  public static String path(Path path) {
    String text = path.toString();
    return text.startsWith("-") ? "." + File.separator + text : text;
  }

  /** One word; in quotes if a shell would split or replace it. */
  public static String word(String text) {
    boolean windows = File.separatorChar == '\\';
    String plain = windows ? PLAIN : PLAIN.replace("\\\\", "");
    if (text.matches(plain)) {
      return text;
    }
    return windows ? "\"" + text + "\"" : "'" + text.replace("'", "'\\''") + "'";
  }

  /** A command on a run of a logbook, ready to type. */
  public static String onRun(String command, long run, Logbook book, String... more) {
    List<String> words = new ArrayList<>(List.of(command, Long.toString(run)));
    words.addAll(List.of(more));
    words.addAll(
        book.store()
            .map(address -> List.of("--from", address.toString()))
            .orElseGet(() -> List.of("--logbook", path(book.path()))));
    return of(words);
  }
}
