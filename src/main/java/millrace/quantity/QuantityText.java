// SPDX-License-Identifier: Apache-2.0
package millrace.quantity;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;

/**
 * Reads and prints quantities as people write them.
 *
 * <p>Grammar: {@code quantity = number [blanks] unit}, where {@code number} is that of {@link
 * NumberText} (a Unicode minus sign is taken too) and {@code unit} is one of the symbols of the
 * kind asked for, case as in the SI. A micro sign may be {@code u} or either Unicode micro sign,
 * ohm may be either Unicode ohm sign, degC may have a degree sign, K2 a superscript two. A time
 * span may be a sum of falling units. A bare number is accepted for {@link Dimension#NUMBER} and,
 * when it is 0, nowhere else: 0 of what must be said.
 *
 * <pre>
 * accepted: 100 uA | 100 µA | 4.7 kohm | 4.7 kΩ | -10 degC | 0.1 % | 50 ppm | 2 h | 1 h 30 min | 1e-3 A
 * refused:  4,7 kohm | 100 | 100 ua | 10 Kohm | 5 K (as a temperature) | uA | 1e999 A | 4k7 | 10 C
 * </pre>
 *
 * <p>Thread-safe.
 */
public final class QuantityText {
  private QuantityText() {}

  /**
   * Reads a quantity of the kind asked for.
   *
   * @param text what a person wrote, blanks around it allowed
   * @param expected its kind
   * @return the number in base units of that kind; finite
   * @throws QuantityException if the text is off the grammar or of another kind
   */
  public static double parse(String text, Dimension expected) {
    Scanner scanner = new Scanner(text, expected);
    double value = scanner.next();
    while (expected == Dimension.TIME && scanner.more()) {
      value += scanner.next();
    }
    scanner.end();
    return value;
  }

  /**
   * Prints a value so that {@link #parse} gives the same double back, in engineering notation.
   *
   * @param base the value in base units; finite
   * @param dimension its kind
   * @return for example {@code 4.7 kohm}
   */
  public static String print(double base, Dimension dimension) {
    if (dimension == Dimension.NUMBER) {
      return NumberText.print(base);
    }
    MeasurementUnit unit = bestUnit(base, dimension);
    String text = shortest(unit.count(base)) + " " + unit.symbol();
    if (parse(text, dimension) == base) {
      return text;
    }
    return exactly(base, unit, dimension);
  }

  private static String exactly(double base, MeasurementUnit unit, Dimension dimension) {
    for (int digits = 15; digits <= 17; digits++) {
      String count = plain(unit.count(base).round(new MathContext(digits)));
      String text = count + " " + unit.symbol();
      if (parse(text, dimension) == base) {
        return text;
      }
    }
    return NumberText.print(base) + " " + dimension.baseUnit();
  }

  /**
   * Prints a value for reading, rounded to significant digits, in engineering notation.
   *
   * @param base the value in base units; finite
   * @param dimension its kind
   * @param digits how many significant digits, 1 or more
   * @return for example {@code 1.235 mA}
   */
  public static String print(double base, Dimension dimension, int digits) {
    if (dimension == Dimension.NUMBER) {
      return NumberText.significant(base, digits);
    }
    double rounded =
        ShortestDecimal.toRound(base)
            .round(new MathContext(digits, RoundingMode.HALF_UP))
            .doubleValue();
    MeasurementUnit unit = bestUnit(rounded, dimension);
    BigDecimal count =
        NumberText.padded(
            unit.count(base).round(new MathContext(digits, RoundingMode.HALF_UP)), digits);
    return plain(count) + " " + unit.symbol();
  }

  /**
   * Prints a value with its expanded uncertainty, both rounded to two significant digits of the
   * uncertainty (JCGM 100:2008, 7.2.6).
   *
   * @param value the value, counted in the unit
   * @param expandedUncertainty its expanded uncertainty in the same unit, above 0
   * @param unit the symbol to print behind
   * @return for example {@code (-1.930 ± 0.093) ppm/K}
   */
  public static String withUncertainty(double value, double expandedUncertainty, String unit) {
    int decimals = NumberText.decimalsFor(expandedUncertainty);
    String behind = unit.isEmpty() ? "" : " " + unit;
    return "("
        + rounded(value, decimals)
        + " \u00b1 "
        + rounded(expandedUncertainty, decimals)
        + ")"
        + behind;
  }

  /**
   * A number with the digits that two significant digits of an uncertainty are worth.
   *
   * @param value the number
   * @param expandedUncertainty above 0, in the same unit
   * @return the number without a unit
   */
  public static String rounded(double value, double expandedUncertainty) {
    return rounded(value, NumberText.decimalsFor(expandedUncertainty));
  }

  private static String rounded(double value, int decimals) {
    if (decimals >= 0) {
      return NumberText.fixed(value, decimals);
    }
    return plain(
        ShortestDecimal.toRound(value).setScale(decimals, RoundingMode.HALF_UP).setScale(0));
  }

  /**
   * The texts of one kind as a regular expression that both ECMA-262 and RE2 read, for schemas.
   *
   * @param dimension the kind
   * @return the expression, anchored at both ends
   */
  public static String pattern(Dimension dimension) {
    String number = "[+\\-\u2212]?([0-9]+\\.?[0-9]*|\\.[0-9]+)([eE][+\\-]?[0-9]+)?";
    String units =
        MeasurementUnit.of(dimension).stream()
            .map(u -> MeasurementUnit.spellings(u.symbol()))
            .collect(Collectors.joining("|"));
    String gain = dimension == Dimension.GAIN ? "|dB" : "";
    String one = number + "\\s*(" + units + gain + ")";
    return dimension == Dimension.TIME
        ? "^\\s*" + one + "(\\s+" + one + ")*\\s*$"
        : "^\\s*" + one + "\\s*$";
  }

  /**
   * The engineering prefix and unit that suit a value, for tables and axes that share one.
   *
   * @param base the largest value in base units that will be shown; finite
   * @param dimension its kind
   * @return the symbol and how many base units one of it is
   */
  public static Scale scaleFor(double base, Dimension dimension) {
    if (dimension == Dimension.NUMBER) {
      return new Scale("", 1);
    }
    MeasurementUnit unit = bestUnit(base, dimension);
    return new Scale(unit.symbol(), unit.size());
  }

  /**
   * A unit to show numbers in.
   *
   * @param symbol its symbol
   * @param size how many base units one of it is, above 0
   */
  public record Scale(String symbol, double size) {}

  private static MeasurementUnit bestUnit(double base, Dimension dimension) {
    List<MeasurementUnit> units = MeasurementUnit.of(dimension);
    if (dimension == Dimension.RATIO && base != 0) {
      return Math.abs(base) >= 1e-3 ? one("%", dimension) : one("ppm", dimension);
    }
    if (base == 0 || units.size() == 1) {
      return preferredForZero(units);
    }
    MeasurementUnit best = null;
    for (MeasurementUnit unit : units) {
      double count = Math.abs(base) / unit.size();
      if (count >= 1 && (best == null || unit.size() > best.size())) {
        best = unit;
      }
    }
    return best == null ? smallest(units) : best;
  }

  private static MeasurementUnit preferredForZero(List<MeasurementUnit> units) {
    return units.get(0);
  }

  private static MeasurementUnit smallest(List<MeasurementUnit> units) {
    MeasurementUnit best = units.get(0);
    for (MeasurementUnit unit : units) {
      if (unit.size() < best.size()) {
        best = unit;
      }
    }
    return best;
  }

  private static MeasurementUnit one(String symbol, Dimension dimension) {
    return MeasurementUnit.find(symbol, dimension).orElseThrow();
  }

  private static String shortest(BigDecimal count) {
    return plain(count.round(new MathContext(15)).stripTrailingZeros());
  }

  private static String plain(BigDecimal count) {
    if (count.signum() == 0) {
      return "0";
    }
    BigDecimal bare = count.stripTrailingZeros();
    int exponent = bare.precision() - bare.scale() - 1;
    if (exponent > 12 || exponent < -6) {
      return bare.scaleByPowerOfTen(-exponent).toPlainString() + "e" + exponent;
    }
    return count.scale() < 0 ? count.setScale(0).toPlainString() : trim(count);
  }

  private static String trim(BigDecimal count) {
    return count.precision() >= 15
        ? count.stripTrailingZeros().toPlainString()
        : count.toPlainString();
  }

  /** Walks along a text and takes one number with unit after another. */
  private static final class Scanner {
    private final String text;
    private final Dimension expected;
    private int at;
    private double lastSize = Double.POSITIVE_INFINITY;

    Scanner(String text, Dimension expected) {
      this.text = text.replace('\u2212', '-');
      this.expected = expected;
      skipBlanks();
    }

    boolean more() {
      skipBlanks();
      return at < text.length();
    }

    double next() {
      int start = at;
      int end = NumberText.numberEnd(text, start);
      if (end == start) {
        throw QuantityErrorText.noNumber(text, start, expected);
      }
      String number = text.substring(start, end);
      at = end;
      skipBlanks();
      double value = withUnit(number, start);
      if (!Double.isFinite(value)) {
        throw QuantityErrorText.tooLarge(text, start, expected);
      }
      return value;
    }

    private double withUnit(String number, int start) {
      int unitStart = at;
      while (at < text.length() && !Character.isWhitespace(text.charAt(at))) {
        at++;
      }
      String symbol = text.substring(unitStart, at);
      if (expected == Dimension.NUMBER) {
        if (!symbol.isEmpty()) {
          throw QuantityErrorText.wrongUnit(text, unitStart, symbol, expected);
        }
        return NumberText.parse(number).orElse(Double.POSITIVE_INFINITY);
      }
      if (expected == Dimension.GAIN && symbol.equals("dB")) {
        return Math.pow(10, NumberText.parse(number).orElse(1e9) / 20);
      }
      return scaled(number, unitStart, symbol, start);
    }

    private double scaled(String number, int unitStart, String symbol, int start) {
      Optional<MeasurementUnit> unit = MeasurementUnit.find(symbol, expected);
      if (unit.isEmpty()) {
        throw QuantityErrorText.wrongUnit(text, unitStart, symbol, expected);
      }
      if (unit.get().size() >= lastSize) {
        throw QuantityErrorText.notFalling(text, start);
      }
      lastSize = unit.get().size();
      OptionalDouble value = NumberText.parse(number);
      if (value.isEmpty()) {
        return Double.POSITIVE_INFINITY;
      }
      // a decimal whose exponent has more than ten digits is 0 to a double, and too much for itself
      return unit.get().toBase(value.getAsDouble() == 0 ? BigDecimal.ZERO : new BigDecimal(number));
    }

    void end() {
      skipBlanks();
      if (at < text.length()) {
        throw QuantityErrorText.leftOver(text, at, expected);
      }
    }

    private void skipBlanks() {
      while (at < text.length() && Character.isWhitespace(text.charAt(at))) {
        at++;
      }
    }
  }
}
