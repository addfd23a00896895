// SPDX-License-Identifier: Apache-2.0
package millrace.report.label;

import java.util.ArrayList;
import java.util.List;

/**
 * QR code of characters, two modules above one another in each: half blocks (Unicode 15, Block
 * Elements, U+2580 to U+2588). Stateless.
 */
public final class TerminalQrCode {
  /** Black and white of the colour cube, which no theme changes, as a reader wants them. */
  private static final String BLACK_ON_WHITE = "\u001b[38;5;16;48;5;231m";

  private static final String PLAIN = "\u001b[0m";

  private TerminalQrCode() {}

  /**
   * Draws a text as a code with its quiet zone.
   *
   * @param content the text, up to 200 characters of ASCII
   * @param toned true if the terminal can show colours; else light modules are drawn, as on a dark
   *     screen
   * @return lines of equal width
   */
  public static List<String> lines(String content, boolean toned) {
    QrCode code = QrCode.of(content);
    List<String> lines = new ArrayList<>();
    for (int y = 0; y < code.side(); y += 2) {
      StringBuilder line = new StringBuilder();
      for (int x = 0; x < code.side(); x++) {
        line.append(half(code.isDark(x, y) == toned, code.isDark(x, y + 1) == toned));
      }
      lines.add(toned ? BLACK_ON_WHITE + line + PLAIN : line.toString());
    }
    return lines;
  }

  /**
   * The width of a code of this text.
   *
   * @param content the text
   * @return characters
   */
  public static int columns(String content) {
    return QrCode.of(content).side();
  }

  private static char half(boolean upper, boolean lower) {
    return upper ? lower ? '\u2588' : '\u2580' : lower ? '\u2584' : ' ';
  }
}
