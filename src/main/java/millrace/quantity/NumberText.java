// SPDX-License-Identifier: Apache-2.0
package millrace.quantity;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.Locale;
import java.util.OptionalDouble;

/**
 * Bare numbers in and out, the same in every locale.
 *
 * <p>Grammar: {@code [+-] digits [. digits] [(e|E) [+-] digits]}, at least one digit before or
 * after the point; no infinity, no not-a-number, no decimal comma, no white space.
 */
public final class NumberText {
  private NumberText() {}

  /**
   * Reads a number, all of the text.
   *
   * @param text the text
   * @return the number; empty if the text is off the grammar or overflows a double
   */
  public static OptionalDouble parse(String text) {
    if (text.isEmpty() || numberEnd(text, 0) != text.length()) {
      return OptionalDouble.empty();
    }
    double value = Double.parseDouble(text);
    return Double.isFinite(value) ? OptionalDouble.of(value) : OptionalDouble.empty();
  }

  /**
   * Finds where a number that starts at an index ends.
   *
   * @param text the text
   * @param from where the number would start
   * @return the index behind its last character; {@code from} if there is no number
   */
  static int numberEnd(String text, int from) {
    int i = from;
    if (i < text.length() && (text.charAt(i) == '+' || text.charAt(i) == '-')) {
      i++;
    }
    int whole = digitsEnd(text, i);
    int digits = whole - i;
    i = whole;
    if (i < text.length() && text.charAt(i) == '.') {
      int fraction = digitsEnd(text, i + 1);
      digits += fraction - i - 1;
      i = fraction;
    }
    return digits == 0 ? from : exponentEnd(text, i);
  }

  private static int exponentEnd(String text, int from) {
    if (from >= text.length() || (text.charAt(from) != 'e' && text.charAt(from) != 'E')) {
      return from;
    }
    int i = from + 1;
    if (i < text.length() && (text.charAt(i) == '+' || text.charAt(i) == '-')) {
      i++;
    }
    int end = digitsEnd(text, i);
    return end == i ? from : end;
  }

  private static int digitsEnd(String text, int from) {
    int i = from;
    while (i < text.length() && text.charAt(i) >= '0' && text.charAt(i) <= '9') {
      i++;
    }
    return i;
  }

  /**
   * Prints so that {@link #parse} gives the same double back, in plain notation where that is
   * short.
   *
   * @param value a finite number
   * @return the shortest decimal that reads back to it
   */
  public static String print(double value) {
    if (!Double.isFinite(value)) {
      throw new IllegalArgumentException("not a finite number: " + value);
    }
    if (value == 0) {
      return "0";
    }
    BigDecimal decimal = ShortestDecimal.of(value);
    int exponent = decimal.precision() - decimal.scale() - 1;
    if (exponent >= -4 && exponent < 15) {
      return decimal.toPlainString();
    }
    return scientific(decimal, exponent);
  }

  private static String scientific(BigDecimal decimal, int exponent) {
    String mantissa = decimal.scaleByPowerOfTen(-exponent).toPlainString();
    return mantissa + "e" + exponent;
  }

  /**
   * Prints with a fixed number of decimals, half away from zero.
   *
   * @param value a finite number
   * @param decimals how many digits after the point, 0 or more
   * @return for example {@code -1.93}
   */
  public static String fixed(double value, int decimals) {
    BigDecimal rounded = ShortestDecimal.toRound(value).setScale(decimals, RoundingMode.HALF_UP);
    return rounded.signum() == 0 ? rounded.abs().toPlainString() : rounded.toPlainString();
  }

  /**
   * Prints with a number of significant digits, without an exponent where that stays readable.
   *
   * @param value a finite number
   * @param digits how many significant digits, 1 or more
   * @return for example {@code 0.0123} for three digits
   */
  public static String significant(double value, int digits) {
    if (value == 0) {
      return "0";
    }
    BigDecimal rounded =
        ShortestDecimal.toRound(value).round(new MathContext(digits, RoundingMode.HALF_UP));
    rounded = padded(rounded, digits);
    int exponent = rounded.precision() - rounded.scale() - 1;
    if (exponent >= -5 && exponent < 9) {
      return rounded.scale() < 0
          ? rounded.setScale(0, RoundingMode.UNNECESSARY).toPlainString()
          : rounded.toPlainString();
    }
    return scientific(rounded, exponent);
  }

  /** Gives a rounded number the zeros that say how many of its digits count. */
  static BigDecimal padded(BigDecimal rounded, int digits) {
    int lacking = digits - rounded.precision();
    return lacking > 0 ? rounded.setScale(rounded.scale() + lacking) : rounded;
  }

  /**
   * How many decimals a value is worth when its expanded uncertainty is given with two significant
   * digits (JCGM 100:2008, 7.2.6).
   *
   * @param expandedUncertainty above 0
   * @return the number of digits after the point; negative when even whole units are too many
   */
  public static int decimalsFor(double expandedUncertainty) {
    if (!(expandedUncertainty > 0) || Double.isInfinite(expandedUncertainty)) {
      throw new IllegalArgumentException(
          "an uncertainty is above 0 and finite, found " + expandedUncertainty);
    }
    BigDecimal rounded =
        ShortestDecimal.toRound(expandedUncertainty)
            .round(new MathContext(2, RoundingMode.HALF_UP));
    return rounded
        .setScale(rounded.scale() - (rounded.precision() - 2), RoundingMode.HALF_UP)
        .scale();
  }

  /**
   * The power of ten of a number's first digit, exactly: a logarithm may be off by its last bit,
   * and by which depends on the machine.
   *
   * @param value finite and not 0
   * @return n of 10^n, for example -3 for 0.001 and for 0.0099
   */
  public static int decade(double value) {
    if (value == 0 || !Double.isFinite(value)) {
      throw new IllegalArgumentException("0 and infinity have no first digit, found " + value);
    }
    BigDecimal decimal = ShortestDecimal.toRound(value);
    return decimal.precision() - decimal.scale() - 1;
  }

  /**
   * The double nearest to a power of ten.
   *
   * @param exponent -323 to 308
   * @return 10^exponent
   */
  public static double powerOfTen(int exponent) {
    return BigDecimal.ONE.scaleByPowerOfTen(exponent).doubleValue();
  }

  /**
   * How often a ratio has to be halved until it is 1 or less, exactly.
   *
   * @param ratio 1 or more, finite
   * @return the least n with ratio / 2^n at most 1
   */
  public static int halvings(double ratio) {
    return Math.getExponent(Math.nextDown(ratio)) + 1;
  }

  /**
   * Fills a text with numbers, in the root locale.
   *
   * @param pattern a format string
   * @param args its arguments
   * @return the text
   */
  public static String format(String pattern, Object... args) {
    return String.format(Locale.ROOT, pattern, args);
  }

  /**
   * Prints how many of something there are.
   *
   * @param n how many, 0 or more
   * @param what one of them; more of them end in s
   * @return for example {@code 1 point} or {@code 2 points}
   */
  public static String counted(long n, String what) {
    return n + " " + what + (n == 1 ? "" : "s");
  }
}
