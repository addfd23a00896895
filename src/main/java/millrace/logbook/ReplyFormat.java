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
    int length = reply.length();
    if (length == 0 || length > LONGEST || (reply.charAt(0) == '-') != (value < 0)) {
      return NONE;
    }
    int plus = reply.charAt(0) == '+' ? 1 : 0;
    int from = plus == 1 || value < 0 ? 1 : 0;
    int point = behindDigits(reply, from);
    int end = behindPoint(reply, point);
    int precision = Math.max(0, end - point - 1);
    int kind = end == length ? 0 : kind(reply, end);
    boolean zero = point > from && reply.charAt(from) == '0';
    boolean plain = point > from && end >= 0 && precision <= LARGEST_POWER;
    if (!plain || kind < 0 || (point - from > 1 && (zero || kind > 0))) {
      return NONE;
    }
    double digits = digits(reply, from, end);
    int power = kind == 0 ? 0 : power(reply, end);
    boolean normal = kind == 0 || !zero || (digits == 0 && power == 0);
    return normal && digits < POWERS[DIGITS] && scaled(digits, power - precision) == Math.abs(value)
        ? precision + ((2 * kind + plus) << PRECISION_BITS)
        : NONE;
  }

  private static int behindDigits(String text, int from) {
    int end = from;
    while (end < text.length() && isDigit(text.charAt(end))) {
      end++;
    }
    return end;
  }

  private static boolean isDigit(char c) {
    return c >= '0' && c <= '9';
  }

  /** Behind a point and its digits; negative where no digit follows a point. */
  private static int behindPoint(String text, int point) {
    if (point == text.length() || text.charAt(point) != '.') {
      return point;
    }
    int end = behindDigits(text, point + 1);
    return end == point + 1 ? NONE : end;
  }

  /** The digits as a whole number; of too many one that is too large, too. */
  private static long digits(String text, int from, int end) {
    long digits = 0;
    for (int i = from; i < end && digits < POWERS[DIGITS]; i++) {
      digits = text.charAt(i) == '.' ? digits : TEN * digits + text.charAt(i) - '0';
    }
    return digits;
  }

  /** What kind of exponent a text ends with: a letter, a sign and two digits, zero with a plus. */
  private static int kind(String text, int at) {
    if (at < 0 || text.length() != at + "E+00".length()) {
      return NONE;
    }
    char sign = text.charAt(at + 1);
    boolean two = isDigit(text.charAt(at + 2)) && isDigit(text.charAt(at + 3));
    boolean printed = two && (sign == '+' || (sign == '-' && power(text, at) != 0));
    char letter = text.charAt(at);
    int kind = letter == 'E' ? UPPER_CASE : letter == 'e' ? UPPER_CASE + 1 : NONE;
    return printed ? kind : NONE;
  }

  private static int power(String text, int at) {
    int power = TEN * (text.charAt(at + 2) - '0') + text.charAt(at + 3) - '0';
    return text.charAt(at + 1) == '-' ? -power : power;
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
