// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.dcc;

import java.util.Arrays;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import millrace.quantity.Dimension;

/**
 * A unit in the form of D-SI: names of units and prefixes after backslashes, powers as {@code
 * \tothe{-2}}, {@code \per} before a divisor (D-SI 2.1; the names are those of the SI Brochure, 9th
 * edition, tables 2, 4 and 7).
 *
 * @param factor its size in SI base units
 * @param powers of kilogram, metre, second, ampere, kelvin
 * @param celsius true for the degree Celsius itself, whose zero differs
 */
record SiUnit(double factor, Powers powers, boolean celsius) {
  private static final Pattern PART = Pattern.compile("\\\\([a-z]+)(?:\\{([+-]?[0-9.]+)\\})?");

  private static final Map<String, Double> PREFIXES =
      Map.ofEntries(
          Map.entry("giga", 1e9),
          Map.entry("mega", 1e6),
          Map.entry("kilo", 1e3),
          Map.entry("milli", 1e-3),
          Map.entry("micro", 1e-6),
          Map.entry("nano", 1e-9),
          Map.entry("pico", 1e-12),
          Map.entry("femto", 1e-15));

  private static final Map<String, SiUnit> UNITS =
      Map.ofEntries(
          Map.entry("kilogram", unit(1, Powers.of(1, 0, 0, 0, 0))),
          Map.entry("gram", unit(1e-3, Powers.of(1, 0, 0, 0, 0))),
          Map.entry("metre", unit(1, Powers.of(0, 1, 0, 0, 0))),
          Map.entry("second", unit(1, Powers.of(0, 0, 1, 0, 0))),
          Map.entry("ampere", unit(1, Powers.of(0, 0, 0, 1, 0))),
          Map.entry("kelvin", unit(1, Powers.of(0, 0, 0, 0, 1))),
          Map.entry("degreecelsius", new SiUnit(1, Powers.of(0, 0, 0, 0, 1), true)),
          Map.entry("volt", unit(1, Powers.of(1, 2, -3, -1, 0))),
          Map.entry("ohm", unit(1, Powers.of(1, 2, -3, -2, 0))),
          Map.entry("watt", unit(1, Powers.of(1, 2, -3, 0, 0))),
          Map.entry("one", unit(1, Powers.of(0, 0, 0, 0, 0))),
          Map.entry("percent", unit(1e-2, Powers.of(0, 0, 0, 0, 0))),
          Map.entry("ppm", unit(1e-6, Powers.of(0, 0, 0, 0, 0))));

  /** Powers of the base units. */
  record Powers(int kilogram, int metre, int second, int ampere, int kelvin) {
    static Powers of(int kilogram, int metre, int second, int ampere, int kelvin) {
      return new Powers(kilogram, metre, second, ampere, kelvin);
    }

    private Powers plus(Powers other, int times) {
      return new Powers(
          kilogram + times * other.kilogram,
          metre + times * other.metre,
          second + times * other.second,
          ampere + times * other.ampere,
          kelvin + times * other.kelvin);
    }
  }

  private static SiUnit unit(double factor, Powers powers) {
    return new SiUnit(factor, powers, false);
  }

  /** Reads a unit; empty where Millrace does not know it. */
  static Optional<SiUnit> parse(String text) {
    Matcher part = PART.matcher(text.strip().toLowerCase(Locale.ROOT));
    UnitProduct product = new UnitProduct();
    int end = 0;
    while (part.find() && part.start() == end) {
      if (!product.take(part.group(1), Optional.ofNullable(part.group(2)))) {
        return Optional.empty();
      }
      end = part.end();
    }
    return end == 0 || end < text.strip().length() ? Optional.empty() : product.whole();
  }

  /** The kind of quantity of the unit; for a temperature the difference. */
  Optional<Dimension> kind() {
    return Arrays.stream(
            new Dimension[] {
              Dimension.CURRENT,
              Dimension.VOLTAGE,
              Dimension.RESISTANCE,
              Dimension.TEMPERATURE_DIFFERENCE,
              Dimension.RATIO
            })
        .filter(d -> powers.equals(base(d)))
        .findFirst();
  }

  private static Powers base(Dimension kind) {
    return switch (kind) {
      case CURRENT -> Powers.of(0, 0, 0, 1, 0);
      case VOLTAGE -> Powers.of(1, 2, -3, -1, 0);
      case RESISTANCE -> Powers.of(1, 2, -3, -2, 0);
      case TEMPERATURE_DIFFERENCE -> Powers.of(0, 0, 0, 0, 1);
      default -> Powers.of(0, 0, 0, 0, 0);
    };
  }

  /** Multiplies part by part. */
  private static final class UnitProduct {
    private double factor = 1;
    private Powers powers = Powers.of(0, 0, 0, 0, 0);
    private double prefix = 1;
    private int sign = 1;
    private Optional<SiUnit> last = Optional.empty();
    private int lastPower;
    private int parts;

    boolean take(String word, Optional<String> argument) {
      if (word.equals("tothe")) {
        return argument.filter(a -> a.matches("[+-]?[0-9]{1,2}")).filter(this::raise).isPresent();
      } else if (word.equals("per")) {
        sign = -1;
        return argument.isEmpty();
      } else if (PREFIXES.containsKey(word)) {
        prefix = PREFIXES.get(word);
        return argument.isEmpty();
      }
      SiUnit unit = UNITS.get(word);
      if (unit == null || argument.isPresent()) {
        return false;
      }
      last = Optional.of(new SiUnit(prefix * unit.factor, unit.powers, unit.celsius));
      lastPower = sign;
      parts++;
      multiply(lastPower);
      prefix = 1;
      sign = 1;
      return true;
    }

    /** The preceding unit is counted once already; this applies its power. */
    private boolean raise(String argument) {
      if (last.isEmpty()) {
        return false;
      }
      multiply(lastPower * (Integer.parseInt(argument) - 1));
      parts++;
      return true;
    }

    private void multiply(int times) {
      SiUnit unit = last.orElseThrow();
      factor *= Math.pow(unit.factor, times);
      powers = powers.plus(unit.powers, times);
    }

    Optional<SiUnit> whole() {
      boolean alone = parts == 1 && last.filter(SiUnit::celsius).isPresent();
      return parts == 0 || prefix != 1
          ? Optional.empty()
          : Optional.of(new SiUnit(factor, powers, alone));
    }
  }
}
