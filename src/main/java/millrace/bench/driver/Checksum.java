// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import java.util.Locale;
import millrace.quantity.NumberText;

/**
 * The checksum of an ASCII protocol: two hex digits behind each message.
 *
 * @param kind how it is computed
 * @param before what stands before the message and is not summed; may be empty
 * @param between what stands between the message and the digits and is not summed; may be empty
 * @param on which messages have it
 */
record Checksum(Kind kind, String before, String between, On on) {
  private static final int DIGITS = 2;

  /** How a checksum is computed. */
  enum Kind {
    /**
     * Longitudinal redundancy check of Modbus ASCII: two's complement of the sum of the bytes that
     * the hex digits stand for (Modbus over Serial Line V1.02, 2.5.2.2).
     */
    MODBUS_LRC("modbus lrc"),
    /** Sum of the character codes, modulo 256. */
    SUM("sum"),
    /** Exclusive or of the character codes. */
    XOR("xor");

    private final String text;

    Kind(String text) {
      this.text = text;
    }

    String text() {
      return text;
    }
  }

  /** Which messages have check digits. */
  enum On {
    /** Commands, questions and replies. */
    BOTH("commands and replies"),
    /** Only what the instrument says. */
    REPLIES("replies");

    private final String text;

    On(String text) {
      this.text = text;
    }

    String text() {
      return text;
    }
  }

  /** A command or question as it goes over the line. */
  String wrap(String body) {
    return on == On.REPLIES ? body : before + body + between + of(body);
  }

  /**
   * The reply that came over the line.
   *
   * @throws IllegalArgumentException if its checksum is wrong or missing; the message says what was
   *     expected
   */
  String unwrap(String line) {
    int end = line.length() - DIGITS;
    String there = line.substring(Math.max(0, end));
    int to = end - between.length();
    if (to < before.length() || !line.startsWith(before) || !line.startsWith(between, to)) {
      throw new IllegalArgumentException(form());
    }
    String body = line.substring(before.length(), to);
    String right = of(body);
    if (!there.equalsIgnoreCase(right)) {
      throw new IllegalArgumentException("has check digits " + there + " instead of " + right);
    }
    return body;
  }

  private String form() {
    return "does not begin with '%s' and end with %stwo check digits"
        .formatted(before, between.isEmpty() ? "" : "'" + between + "' and ");
  }

  private String of(String body) {
    int sum = 0;
    switch (kind) {
      case MODBUS_LRC -> sum = -sumOfPairs(body);
      case SUM -> sum = body.chars().sum();
      case XOR -> sum = body.chars().reduce(0, (a, b) -> a ^ b);
      default -> throw new IllegalStateException("no checksum of kind " + kind);
    }
    return NumberText.format("%02X", sum & 0xff);
  }

  private static int sumOfPairs(String body) {
    int sum = 0;
    String text = body.toUpperCase(Locale.ROOT);
    for (int i = 0; i + 1 < text.length(); i += 2) {
      sum += 16 * Character.digit(text.charAt(i), 16) + Character.digit(text.charAt(i + 1), 16);
    }
    return sum;
  }
}
