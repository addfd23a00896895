// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.time.Duration;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/** Renders what went over a wire for a person: quoted, control characters visible, cut. */
public final class WireText {
  private static final int SHOWN_CHARACTERS = 120;

  private WireText() {}

  /**
   * Quotes a text as it went over the wire.
   *
   * @param text any text
   * @return the text in double quotes, at most 120 characters of it
   */
  public static String quoted(String text) {
    StringBuilder out = new StringBuilder("\"");
    for (int i = 0; i < Math.min(SHOWN_CHARACTERS, text.length()); i++) {
      char c = text.charAt(i);
      if (c == '\r') {
        out.append("\\r");
      } else if (c == '\n') {
        out.append("\\n");
      } else if (c < ' ' || (c >= 0x7f && c < 0xa0)) {
        out.append("\\x%02x".formatted((int) c));
      } else {
        out.append(c);
      }
    }
    return out.append(text.length() > SHOWN_CHARACTERS ? "...\"" : "\"").toString();
  }

  /**
   * A time span for a message.
   *
   * @param span the span
   * @return for example {@code 2 s}
   */
  public static String span(Duration span) {
    return QuantityText.print(Math.round(span.toNanos() / 1e6) / 1e3, Dimension.TIME);
  }

  /** Refuses a command that would be more than one, or that cannot be sent as bytes. */
  static void refuseHidden(String command) {
    for (int i = 0; i < command.length(); i++) {
      char c = command.charAt(i);
      if (c == '\n' || c == '\r' || c > 0xff) {
        throw new IllegalArgumentException(
            "the command %s holds an end of line or a character that is no byte"
                .formatted(quoted(command)));
      }
    }
  }
}
