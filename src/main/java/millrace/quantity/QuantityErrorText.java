// SPDX-License-Identifier: Apache-2.0
package millrace.quantity;

import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;

/** The messages for a text that is no quantity. */
final class QuantityErrorText {
  private static final int SHOWN_CHARACTERS = 40;

  private QuantityErrorText() {}

  static QuantityException noNumber(String text, int at, Dimension expected) {
    String rest = text.substring(at);
    if (rest.isEmpty()) {
      return new QuantityException(at + 1, "nothing is written", like(expected), "");
    }
    return new QuantityException(
        at + 1, quoted(rest) + " does not begin with a number", like(expected), "");
  }

  static QuantityException tooLarge(String text, int at, Dimension expected) {
    return new QuantityException(
        at + 1, quoted(text) + " is too large for a number", like(expected), "");
  }

  static QuantityException notFalling(String text, int at) {
    return new QuantityException(
        at + 1,
        quoted(text) + " adds a unit that is not smaller than the one before",
        "falling units, as in '1 h 30 min'",
        "");
  }

  static QuantityException leftOver(String text, int at, Dimension expected) {
    return new QuantityException(
        at + 1, quoted(text) + " goes on with " + quoted(text.substring(at)), like(expected), "");
  }

  static QuantityException wrongUnit(String text, int at, String symbol, Dimension expected) {
    if (symbol.isEmpty()) {
      return new QuantityException(
          at + 1,
          quoted(text) + " has no unit",
          like(expected),
          expected == Dimension.NUMBER ? "" : "Write the unit behind the number.");
    }
    if (symbol.startsWith(",")) {
      return new QuantityException(
          at + 1,
          quoted(text) + " has a decimal comma",
          "a point, as in " + quoted(text.strip().replace(',', '.')),
          "");
    }
    if (expected == Dimension.NUMBER) {
      return new QuantityException(
          at + 1, quoted(text) + " goes on with " + quoted(symbol), "a number alone", "");
    }
    return otherKind(text, at, symbol, expected);
  }

  private static QuantityException otherKind(
      String text, int at, String symbol, Dimension expected) {
    if (expected == Dimension.TEMPERATURE && isFahrenheit(symbol)) {
      return new QuantityException(
          at + 1, quoted(text) + " is in degrees Fahrenheit", like(expected), "Write degC.");
    }
    List<MeasurementUnit> known = MeasurementUnit.all(symbol);
    if (known.isEmpty()) {
      return new QuantityException(
          at + 1,
          quoted(text) + " has the unknown unit " + quoted(symbol),
          like(expected),
          hint(symbol, expected));
    }
    String kind = known.get(0).dimension().inWords();
    return new QuantityException(
        at + 1, quoted(text) + " is " + kind, like(expected), mixedUp(known.get(0), expected));
  }

  /**
   * A special message: a bare F is the farad, and 'a capacitance' would confuse a reader who means
   * degrees.
   */
  private static boolean isFahrenheit(String symbol) {
    return MeasurementUnit.plain(symbol).toLowerCase(Locale.ROOT).matches("(deg)?f");
  }

  private static String mixedUp(MeasurementUnit unit, Dimension expected) {
    if (unit.dimension() == Dimension.TEMPERATURE_DIFFERENCE && expected == Dimension.TEMPERATURE) {
      return "A temperature is written in degC, only a difference in K.";
    }
    if (unit.dimension() == Dimension.TEMPERATURE && expected == Dimension.TEMPERATURE_DIFFERENCE) {
      return "A difference is written in K.";
    }
    return "";
  }

  private static String hint(String symbol, Dimension expected) {
    if (symbol.equals("C") && expected == Dimension.TEMPERATURE) {
      return "Write degC.";
    }
    String plain = MeasurementUnit.plain(symbol);
    String near =
        MeasurementUnit.of(expected).stream()
            .map(MeasurementUnit::symbol)
            .filter(s -> s.equalsIgnoreCase(plain))
            .map(QuantityErrorText::quoted)
            .collect(Collectors.joining(" or "));
    if (!near.isEmpty()) {
      return "Did you mean " + near + "? Upper and lower case differ.";
    }
    return "Its units are " + symbols(expected) + ".";
  }

  private static String symbols(Dimension expected) {
    return MeasurementUnit.of(expected).stream()
        .map(MeasurementUnit::symbol)
        .collect(Collectors.joining(", "));
  }

  private static String like(Dimension expected) {
    return expected.inWords() + ", as in '" + expected.example() + "'";
  }

  static String quoted(String text) {
    StringBuilder out = new StringBuilder("'");
    String shown =
        text.length() > SHOWN_CHARACTERS ? text.substring(0, SHOWN_CHARACTERS) + "..." : text;
    for (int i = 0; i < shown.length(); i++) {
      char c = shown.charAt(i);
      if (Character.isISOControl(c)) {
        out.append(String.format(Locale.ROOT, "\\u%04x", (int) c));
      } else {
        out.append(c);
      }
    }
    return out.append("'").toString();
  }
}
