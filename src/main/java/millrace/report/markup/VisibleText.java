// SPDX-License-Identifier: Apache-2.0
package millrace.report.markup;

/**
 * External text made safe for display. Control characters become control pictures. Characters that
 * change the direction of writing (Unicode Standard Annex 9, 2.1 to 2.5) or have no picture are
 * replaced by their names. Unpaired surrogates become the replacement character. Nothing is left
 * out.
 */
final class VisibleText {
  private static final char REPLACEMENT = '\ufffd';
  private static final int CONTROL_PICTURES = 0x2400;
  private static final char DELETE = 0x7f;
  private static final char PICTURE_OF_DELETE = '\u2421';

  private VisibleText() {}

  /** The text for display; the same text if it needs no change. */
  static String of(String text) {
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      if (c < ' ' || c >= DELETE) {
        return spelled(text);
      }
    }
    return text;
  }

  private static String spelled(String text) {
    StringBuilder out = new StringBuilder(text.length() + 16);
    text.codePoints().forEach(c -> append(out, c));
    return out.toString();
  }

  private static void append(StringBuilder out, int c) {
    if (c == '\n' || c == '\t') {
      out.append((char) c);
    } else if (c < ' ') {
      out.append((char) (CONTROL_PICTURES + c));
    } else if (c == DELETE) {
      out.append(PICTURE_OF_DELETE);
    } else if (c >= Character.MIN_SURROGATE && c <= Character.MAX_SURROGATE) {
      out.append(REPLACEMENT);
    } else if (unseen(c)) {
      String hex = Integer.toHexString(c);
      out.append("[U+").append("0".repeat(Math.max(0, 4 - hex.length()))).append(hex).append(']');
    } else {
      out.appendCodePoint(c);
    }
  }

  private static boolean unseen(int c) {
    boolean control = c > DELETE && c < 0xa0;
    boolean turning = c == 0x61c || (c >= 0x200b && c <= 0x200f) || (c >= 0x2028 && c <= 0x202e);
    boolean isolating = c >= 0x2060 && c <= 0x206f;
    return control || turning || isolating || c == 0xfeff || (c & 0xfffe) == 0xfffe;
  }
}
