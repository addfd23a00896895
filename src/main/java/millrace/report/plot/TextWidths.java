// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import java.util.ArrayList;
import java.util.List;

/**
 * Estimated widths of texts, accurate enough to keep labels apart. They are those of a wide
 * sans-serif font; a narrower font only leaves more space.
 */
public final class TextWidths {
  private static final String NARROW = "iIjl.,:;'|!()[] ft-r";
  private static final String WIDE = "mwMW@%\u2014";

  private TextWidths() {}

  /** The width of a text, in the units of the font size. */
  public static double width(String text, double size) {
    double ems = 0;
    for (int i = 0; i < text.length(); i++) {
      ems += ems(text.charAt(i));
    }
    return ems * size;
  }

  private static double ems(char c) {
    if (NARROW.indexOf(c) >= 0) {
      return 0.36;
    }
    if (WIDE.indexOf(c) >= 0) {
      return 0.95;
    }
    return Character.isUpperCase(c) || c == '\u2212' || c == '\u00b1' ? 0.72 : 0.61;
  }

  /** Wraps a text at blanks so that each line fits; a longer word is not broken. */
  static List<String> wrapped(String text, double size, double room) {
    List<String> lines = new ArrayList<>();
    StringBuilder line = new StringBuilder();
    for (String word : text.split(" ", -1)) {
      if (line.length() > 0 && width(line + " " + word, size) > room) {
        lines.add(line.toString());
        line.setLength(0);
      }
      line.append(line.length() > 0 ? " " : "").append(word);
    }
    lines.add(line.toString());
    return lines;
  }
}
