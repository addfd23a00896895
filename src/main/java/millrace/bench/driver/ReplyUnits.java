// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import com.google.re2j.Matcher;
import com.google.re2j.Pattern;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlKeys;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;

/**
 * The unit of a number in a reply. A unit behind the number is accepted only if the driver file
 * lists it: {@code 1000 uA} read as 1000 A would be a wrong number that looks right.
 *
 * @param bare the size of the unit of a bare number, in base units; empty if a unit must follow
 * @param sizes the units that may follow, each with its size in base units; empty for none
 */
record ReplyUnits(OptionalDouble bare, Map<String, Double> sizes) {
  private static final Pattern WITH_WORD =
      Pattern.compile("([-+]?(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)(?:[eE][-+]?[0-9]+)?)\\s*([^0-9\\s].*)");

  /** Words that could be read as a part of the number, or that are two words. */
  private static final Pattern NO_WORD = Pattern.compile("[-+.0-9].*|[eE][-+]?[0-9].*|.*\\s.*");

  /** Temperature scales with another zero, which no factor converts to degC. */
  private static final Set<String> FAHRENHEIT =
      Set.of("f", "degf", "deg f", "\u00b0f", "fahrenheit");

  /** Copies the map. */
  ReplyUnits {
    sizes = Map.copyOf(sizes);
  }

  /**
   * A number with the size of its unit.
   *
   * @param count how many
   * @param unitSize of what, in base units
   */
  record Counted(double count, double unitSize) {
    /**
     * The number in base units, rounded only once: 99.5 uA is computed as 99.5 / 1e6 A, since 1e-6
     * is itself rounded.
     */
    double inBaseUnits() {
      double inverse = Math.rint(1 / unitSize);
      return Math.abs(inverse * unitSize - 1) < 1e-14 ? count / inverse : count * unitSize;
    }
  }

  /** A bare number; empty if a unit must follow. */
  Optional<Counted> alone(OptionalDouble number) {
    return number.isEmpty() || bare.isEmpty()
        ? Optional.empty()
        : Optional.of(new Counted(number.getAsDouble(), bare.getAsDouble()));
  }

  /** Reads a decimal number and its unit; empty if the unit is not allowed. */
  Optional<Counted> read(String text) {
    OptionalDouble number = NumberText.parse(text);
    if (number.isPresent() || sizes.isEmpty()) {
      return alone(number);
    }
    Matcher matcher = WITH_WORD.matcher(text);
    Double size = matcher.matches() ? sizes.get(matcher.group(2)) : null;
    OptionalDouble count =
        size == null ? OptionalDouble.empty() : NumberText.parse(matcher.group(1));
    return size == null || count.isEmpty()
        ? Optional.empty()
        : Optional.of(new Counted(count.getAsDouble(), size));
  }

  /** The keys of the unit of a number. */
  static ReplyUnits of(YamlKeys map, Dimension kind) {
    Optional<Double> unit =
        map.optional("unit", unitSize(kind), "what a number alone counts; default base units");
    Map<String, Double> units =
        map.optional(
            "units",
            unitSizes(kind),
            Map.of(),
            "units that may stand behind the number, as in [uA, mA] or {C: degC};"
                + " a number alone is then taken only where 'unit:' is given too");
    OptionalDouble alone = units.isEmpty() ? OptionalDouble.of(1) : OptionalDouble.empty();
    return new ReplyUnits(unit.map(OptionalDouble::of).orElse(alone), units);
  }

  private static YamlForm<Double> unitSize(Dimension kind) {
    return YamlForms.map(
        YamlForms.text("a unit, as in mA or 0.1 degC"), u -> CommandTemplate.unitSize(u, kind));
  }

  private static YamlForm<Map<String, Double>> unitSizes(Dimension kind) {
    YamlForm<String> symbol = YamlForms.text("a unit, as in mA");
    return YamlForms.map(
        YamlForms.itemsOr(
            YamlForms.map(YamlForms.list(symbol, 1), ReplyUnits::bySymbol),
            YamlForms.named("words behind a number", symbol)),
        words -> sizes(words, kind));
  }

  private static Map<String, String> bySymbol(List<String> symbols) {
    Map<String, String> words = new LinkedHashMap<>();
    symbols.forEach(s -> words.put(s.strip(), s));
    return words;
  }

  private static Map<String, Double> sizes(Map<String, String> words, Dimension kind) {
    Map<String, Double> sizes = new LinkedHashMap<>();
    words.forEach((word, symbol) -> sizes.put(word, size(word, symbol, kind)));
    return sizes;
  }

  private static double size(String word, String symbol, Dimension kind) {
    if (word.isEmpty() || NO_WORD.matches(word)) {
      throw new IllegalArgumentException(
          ("'%s' is no word that can stand behind a number; expected one without blanks that"
                  + " begins with no digit, sign or point, as in uA")
              .formatted(word));
    }
    if (kind == Dimension.TEMPERATURE && (fahrenheit(word) || fahrenheit(symbol))) {
      throw new IllegalArgumentException(
          "'%s' counts in degrees Fahrenheit, which are not taken; expected degC. Set the instrument to it."
              .formatted(fahrenheit(word) ? word : symbol));
    }
    return CommandTemplate.unitSize(symbol, kind);
  }

  private static boolean fahrenheit(String word) {
    return FAHRENHEIT.contains(word.strip().toLowerCase(Locale.ROOT));
  }

  /** The same; refused if the number has hex digits and a unit behind it would look like one. */
  ReplyUnits behind(ReplyNumberFormat digits) {
    if (digits == ReplyNumberFormat.HEX && !sizes.isEmpty()) {
      throw new IllegalArgumentException(
          "both 'digits: hex' and 'units:' are given; expected one of them, since a unit behind"
              + " hex digits could be one more of them");
    }
    return this;
  }
}
