// SPDX-License-Identifier: Apache-2.0
package millrace.cli.draft;

import com.google.re2j.Pattern;
import java.util.Collection;
import java.util.stream.Collectors;

/** Writes text so that YAML reads the same text back. */
final class YamlTextEscaping {
  private static final Pattern PLAIN = Pattern.compile("[A-Za-z][A-Za-z0-9 ._/()%+-]*");

  private YamlTextEscaping() {}

  /** A word or sentence, in quotes where necessary; control characters become blanks. */
  static String of(String text) {
    StringBuilder clean = new StringBuilder();
    text.codePoints().forEach(c -> clean.appendCodePoint(Character.isISOControl(c) ? ' ' : c));
    String words = clean.toString().strip();
    boolean plain = PLAIN.matches(words) && !words.equals("null");
    return plain ? words : "'" + words.replace("'", "''") + "'";
  }

  /** A list on one line. */
  static String list(Collection<String> items) {
    return items.stream().map(YamlTextEscaping::of).collect(Collectors.joining(", ", "[", "]"));
  }
}
