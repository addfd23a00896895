// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

/**
 * How the number of a reply was printed, where it can be printed again to the byte: a file keeps
 * the format as a small whole number in place of the text, which is twice as long as the number
 * itself. Any other reply is kept as it came.
 *
 * <p>A format is a conversion of ISO/IEC 9899:2018, 7.21.6.1: {@code %f}, {@code %E} or {@code %e},
 * each with or without the flag {@code +}, and a precision. Its number is the precision plus 32
 * times the place of the conversion in this list: %f, %+f, %E, %+E, %e, %+e.
 */
final class ReplyFormat {
  /** Stands for a reply that is kept as text. */
  static final int NONE = -1;

  private static final int CONVERSIONS = 6;
  private static final int PRECISION_BITS = 5;
  private static final int PRECISION = (1 << PRECISION_BITS) - 1;
  private static final int UPPER_CASE = 1;

  /** A double tells any decimals of so many digits apart. */
  private static final int DIGITS = 15;

  /** Powers of ten up to this one are doubles. */
  private static final int LARGEST_POWER = 22;

  private static final double LOG_2 = 0.30102999566398120;
  private static final int LONGEST = 32;
  private static final int TEN = 10;

  private static final double[] POWERS = powers();

  private ReplyFormat() {}

  private static double[] powers() {
    double[] powers = new double[LARGEST_POWER + 1];
    powers[0] = 1;
    for (int i = 1; i < powers.length; i++) {
      powers[i] = TEN * powers[i - 1];
    }
    return powers;
  }

  /**
   * The format of a reply.
   *
   * @param reply as it came
   * @param value its number, finite
   * @return from 0; {@link #NONE} if the number does not give the reply again
   */
  static int of(String reply, double value) {
    int format = seeming(reply);
    return format != NONE && print(format, value).equals(reply) ? format : NONE;
  }

  /** The format that a text looks like. */
  private static int seeming(String text) {
    int length = text.length();
    if (length == 0 || length > LONGEST) {
      return NONE;
    }
    char first = text.charAt(0);
    int plus = first == '+' ? 1 : 0;
    int from = plus == 1 || first == '-' ? 1 : 0;
    int point = digits(text, from);
    int end = point < length && text.charAt(point) == '.' ? digits(text, point + 1) : point;
    int precision = Math.max(0, end - point - 1);
    int kind = end == length ? 0 : exponent(text.charAt(end));
    boolean printed = point > from && (end == point || precision > 0) && precision <= LARGEST_POWER;
    return printed && kind >= 0 ? precision + ((2 * kind + plus) << PRECISION_BITS) : NONE;
  }

  private static int digits(String text, int from) {
    int end = from;
    while (end < text.length() && text.charAt(end) >= '0' && text.charAt(end) <= '9') {
      end++;
    }
    return end;
  }

  private static int exponent(char letter) {
    return letter == 'E' ? UPPER_CASE : letter == 'e' ? UPPER_CASE + 1 : NONE;
  }

  /**
   * Prints a number. Of zeros the positive one is printed, which alone a file keeps.
   *
   * @param format from 0
   * @param value finite
   * @return the reply; empty if no reply had this number in this format
   */
  static String print(int format, double value) {
    int conversion = format >> PRECISION_BITS;
    double size = Math.abs(value);
    int precision = format & PRECISION;
    int power = conversion < 2 ? 0 : power(size, precision);
    long digits = digits(size, precision - power);
    if (digits < 0 || conversion >= CONVERSIONS) {
      return "";
    }
    StringBuilder text = new StringBuilder(LONGEST);
    text.append(value < 0 ? "-" : conversion % 2 == 1 ? "+" : "");
    point(text, digits, precision);
    if (conversion >= 2) {
      text.append(conversion / 2 == UPPER_CASE ? 'E' : 'e').append(power < 0 ? '-' : '+');
      text.append(Math.abs(power) < TEN ? "0" : "").append(Math.abs(power));
    }
    return text.toString();
  }

  private static void point(StringBuilder text, long digits, int precision) {
    String all = Long.toString(digits);
    int zeros = Math.max(0, precision + 1 - all.length());
    int whole = all.length() - precision;
    text.append(zeros > 0 ? "0" : all.substring(0, whole));
    if (precision > 0) {
      text.append('.').append("0".repeat(Math.max(0, zeros - 1)));
      text.append(all, Math.max(0, whole), all.length());
    }
  }

  /** The power of ten of the first digit, once there are so many behind it. */
  private static int power(double size, int precision) {
    if (size == 0) {
      return 0;
    }
    int power = (int) Math.floor(Math.getExponent(size) * LOG_2);
    double digits = Math.rint(scaled(size, precision - power));
    return digits < POWERS[Math.min(DIGITS, precision + 1)] ? power : power + 1;
  }

  /** The digits of a size with so many behind the point, if those tell it whole; else negative. */
  private static long digits(double size, int behind) {
    double digits = Math.rint(scaled(size, behind));
    return digits < POWERS[DIGITS] && scaled(digits, -behind) == size ? (long) digits : NONE;
  }

  /**
   * Size times ten to a power; of a size of 15 digits within 0.3 of the whole number that its
   * digits are.
   */
  private static double scaled(double size, int power) {
    if (Math.abs(power) > LARGEST_POWER) {
      return Double.POSITIVE_INFINITY;
    }
    return power < 0 ? size / POWERS[-power] : size * POWERS[power];
  }
}
