// SPDX-License-Identifier: Apache-2.0
package millrace.quantity;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;

/**
 * The shortest decimal that reads back to a double, and of several the nearest. It is the same in
 * every Java version, so that a signature made with one verifies with the next.
 *
 * <p>The library's own text is not: before Java 19 it is sometimes longer than necessary, as for
 * 2^-44 and for 8.1316e21 (JDK-4511638).
 */
final class ShortestDecimal {
  /** Two decimals of so many digits never read to one double, so such a text is the only one. */
  private static final int UNIQUE = 15;

  /** This many digits identify any double. */
  private static final int ENOUGH = 17;

  /** Below, doubles have fewer bits. */
  private static final double SUBNORMAL = 0x1p-1000;

  /** Whether this Java prints the shortest by itself; it does so ten times as fast. */
  private static final boolean KNOWN = Double.toString(0x1p-44).equals("5.684341886080802E-14");

  private ShortestDecimal() {}

  /**
   * The decimal of a double.
   *
   * @param value a finite number
   * @return without zeros at its end
   */
  static BigDecimal of(double value) {
    BigDecimal text = toRound(value);
    boolean normal = Math.abs(value) > SUBNORMAL;
    if (value == 0 || (normal && (KNOWN || text.precision() <= UNIQUE))) {
      return text;
    }
    BigDecimal exact = new BigDecimal(value);
    for (int digits = normal ? UNIQUE : 1; digits < ENOUGH; digits++) {
      BigDecimal near = rounded(exact, digits, RoundingMode.HALF_EVEN);
      if (near.doubleValue() == value) {
        return near;
      }
      // At a power of two the doubles below stand closer, so that only the farther one may fit.
      BigDecimal away = rounded(exact, digits, RoundingMode.UP);
      if (away.doubleValue() == value) {
        return away;
      }
    }
    return rounded(exact, ENOUGH, RoundingMode.HALF_EVEN);
  }

  /**
   * A decimal of a double that is good for rounding to fewer than 15 digits.
   *
   * @param value a finite number
   * @return the shortest, where it has 15 digits or fewer, else one of 16 or 17 digits
   */
  static BigDecimal toRound(double value) {
    BigDecimal text = BigDecimal.valueOf(value).stripTrailingZeros();
    if (KNOWN || text.precision() <= UNIQUE) {
      return text;
    }
    BigDecimal shorter = rounded(text, UNIQUE, RoundingMode.HALF_EVEN);
    return shorter.doubleValue() == value ? shorter : text;
  }

  private static BigDecimal rounded(BigDecimal exact, int digits, RoundingMode mode) {
    return exact.round(new MathContext(digits, mode)).stripTrailingZeros();
  }
}
