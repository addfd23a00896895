// SPDX-License-Identifier: Apache-2.0
package millrace.quantity;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * A unit symbol with its kind and its size in base units.
 *
 * @param symbol as printed
 * @param dimension its kind
 * @param numerator size in base units is numerator / denominator, both exact decimals
 * @param denominator see numerator; not zero
 */
record MeasurementUnit(
    String symbol, Dimension dimension, BigDecimal numerator, BigDecimal denominator) {

  private static final Map<Dimension, List<MeasurementUnit>> BY_DIMENSION =
      new EnumMap<>(Dimension.class);
  private static final Map<String, List<MeasurementUnit>> BY_SYMBOL = new LinkedHashMap<>();
  private static final String PREFIXES = "TGMkmunpf";
  private static final int[] EXPONENTS = {12, 9, 6, 3, -3, -6, -9, -12, -15};

  static {
    prefixed("A", Dimension.CURRENT, "kmunpf");
    prefixed("V", Dimension.VOLTAGE, "kmun");
    prefixed("ohm", Dimension.RESISTANCE, "TGMkmu");
    prefixed("S", Dimension.CONDUCTANCE, "munpf");
    prefixed("F", Dimension.CAPACITANCE, "munpf");
    prefixed("W", Dimension.POWER, "kmunp");
    prefixed("Hz", Dimension.FREQUENCY, "GMkmu");
    prefixed("s", Dimension.TIME, "mun");
    scaled("min", Dimension.TIME, "60", "1");
    scaled("h", Dimension.TIME, "3600", "1");
    scaled("d", Dimension.TIME, "86400", "1");
    scaled("degC", Dimension.TEMPERATURE, "1", "1");
    prefixed("K", Dimension.TEMPERATURE_DIFFERENCE, "m");
    scaled("K/s", Dimension.TEMPERATURE_RATE, "1", "1");
    scaled("K/min", Dimension.TEMPERATURE_RATE, "1", "60");
    scaled("K/h", Dimension.TEMPERATURE_RATE, "1", "3600");
    relative("", Dimension.RATIO);
    relative("/K", Dimension.RATIO_PER_KELVIN);
    relative("/K2", Dimension.RATIO_PER_KELVIN_SQUARED);
    relative("/V", Dimension.RATIO_PER_VOLT);
    relative("/W", Dimension.RATIO_PER_WATT);
    relative("/s", Dimension.RATIO_PER_TIME);
    perTime("/h", "3600");
    perTime("/d", "86400");
    perTime("/year", "31557600");
    scaled("1", Dimension.RATIO, "1", "1");
    scaled("1/K", Dimension.RATIO_PER_KELVIN, "1", "1");
    scaled("1/K2", Dimension.RATIO_PER_KELVIN_SQUARED, "1", "1");
    scaled("1/V", Dimension.RATIO_PER_VOLT, "1", "1");
    scaled("1/W", Dimension.RATIO_PER_WATT, "1", "1");
    scaled("1/s", Dimension.RATIO_PER_TIME, "1", "1");
    scaled("%", Dimension.HUMIDITY, "1", "100");
    scaled("%RH", Dimension.HUMIDITY, "1", "100");
    scaled("1", Dimension.HUMIDITY, "1", "1");
    scaled("V/V", Dimension.GAIN, "1", "1");
    prefixed("V/K", Dimension.VOLTAGE_PER_KELVIN, "mun");
    prefixed("A/K", Dimension.CURRENT_PER_KELVIN, "munpf");
    prefixed("B", Dimension.DATA, "TGMk");
  }

  private static void prefixed(String symbol, Dimension dimension, String prefixes) {
    scaled(symbol, dimension, "1", "1");
    for (int i = 0; i < PREFIXES.length(); i++) {
      char prefix = PREFIXES.charAt(i);
      if (prefixes.indexOf(prefix) >= 0) {
        add(new MeasurementUnit(prefix + symbol, dimension, power(EXPONENTS[i]), BigDecimal.ONE));
      }
    }
  }

  private static void relative(String per, Dimension dimension) {
    scaled("%" + per, dimension, "1", "100");
    scaled("ppm" + per, dimension, "1", "1000000");
    scaled("ppb" + per, dimension, "1", "1000000000");
  }

  private static void perTime(String per, String seconds) {
    BigDecimal span = new BigDecimal(seconds);
    add(new MeasurementUnit("%" + per, Dimension.RATIO_PER_TIME, power(-2), span));
    add(new MeasurementUnit("ppm" + per, Dimension.RATIO_PER_TIME, power(-6), span));
    add(new MeasurementUnit("ppb" + per, Dimension.RATIO_PER_TIME, power(-9), span));
  }

  private static void scaled(String symbol, Dimension dimension, String over, String under) {
    add(new MeasurementUnit(symbol, dimension, new BigDecimal(over), new BigDecimal(under)));
  }

  private static void add(MeasurementUnit unit) {
    BY_SYMBOL.computeIfAbsent(unit.symbol(), s -> new ArrayList<>()).add(unit);
    BY_DIMENSION.computeIfAbsent(unit.dimension(), d -> new ArrayList<>()).add(unit);
  }

  private static BigDecimal power(int exponent) {
    return BigDecimal.ONE.scaleByPowerOfTen(exponent);
  }

  /** The unit of the given kind that is written like this, whatever micro or ohm sign is used. */
  static Optional<MeasurementUnit> find(String symbol, Dimension dimension) {
    return all(symbol).stream().filter(u -> u.dimension() == dimension).findFirst();
  }

  /** Every unit that is written like this; empty if none. */
  static List<MeasurementUnit> all(String symbol) {
    return BY_SYMBOL.getOrDefault(plain(symbol), List.of());
  }

  /** The units of one kind, base unit first. */
  static List<MeasurementUnit> of(Dimension dimension) {
    return BY_DIMENSION.getOrDefault(dimension, List.of());
  }

  /** Replaces typographic signs by what the table knows. */
  static String plain(String symbol) {
    StringBuilder out = new StringBuilder(symbol.length());
    for (int i = 0; i < symbol.length(); i++) {
      char c = symbol.charAt(i);
      switch (c) {
        case '\u00b5', '\u03bc' -> out.append('u');
        case '\u2126', '\u03a9' -> out.append("ohm");
        case '\u00b2' -> out.append('2');
        case '\u2103' -> out.append("degC");
        case '\u00b0' -> out.append("deg");
        default -> out.append(c);
      }
    }
    return out.toString();
  }

  /** A regular expression for every way in which a symbol of the table may be written. */
  static String spellings(String symbol) {
    StringBuilder out = new StringBuilder();
    int i = 0;
    while (i < symbol.length()) {
      if (symbol.startsWith("ohm", i)) {
        out.append("(ohm|[\u2126\u03a9])");
        i += 3;
      } else if (symbol.startsWith("degC", i)) {
        out.append("(degC|\u00b0C|\u2103)");
        i += 4;
      } else {
        char c = symbol.charAt(i++);
        out.append(
            switch (c) {
              case 'u' -> "[u\u00b5\u03bc]";
              case '2' -> "[2\u00b2]";
              default -> String.valueOf(c);
            });
      }
    }
    return out.toString();
  }

  /** This many of the unit, in base units, correctly rounded. */
  double toBase(BigDecimal count) {
    return over(count.multiply(numerator), denominator).doubleValue();
  }

  /** A value in base units counted in this unit, to 34 digits. */
  BigDecimal count(double base) {
    return over(ShortestDecimal.of(base).multiply(denominator), numerator);
  }

  /** A quotient to 34 digits; that by a power of ten, as most are, only moves the point. */
  private static BigDecimal over(BigDecimal dividend, BigDecimal divisor) {
    return divisor.unscaledValue().equals(BigInteger.ONE)
        ? dividend.scaleByPowerOfTen(divisor.scale())
        : dividend.divide(divisor, MathContext.DECIMAL128);
  }

  /** One of the unit in base units; good for display only. */
  double size() {
    return numerator.doubleValue() / denominator.doubleValue();
  }
}
