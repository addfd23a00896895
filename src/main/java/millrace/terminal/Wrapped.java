// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import java.util.ArrayList;
import java.util.List;

/** Breaks text into lines between words; a word longer than a line stays whole. */
public final class Wrapped {
  private static final String DEEPER = "  ";

  private Wrapped() {}

  /**
   * Lines of at most so many characters. The second line and those after it are indented a little.
   */
  public static String at(int columns, String text) {
    String indent = " ".repeat(text.length() - text.stripLeading().length());
    List<String> lines = new ArrayList<>();
    StringBuilder line = new StringBuilder(indent);
    boolean begun = false;
    for (String word : text.strip().split(" ")) {
      if (begun && line.length() + 1 + word.length() > columns) {
        lines.add(line.toString());
        line = new StringBuilder(indent + DEEPER).append(word);
      } else {
        line.append(begun ? " " : "").append(word);
      }
      begun = true;
    }
    lines.add(line.toString());
    return String.join("\n", lines);
  }
}
