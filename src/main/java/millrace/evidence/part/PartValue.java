// SPDX-License-Identifier: Apache-2.0
package millrace.evidence.part;

import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityException;
import millrace.quantity.QuantityText;

/**
 * A value of a part that a person measured, as a line of the logbook; only this class writes and
 * reads the line.
 *
 * @param quantity what was measured
 * @param of the part, by its name in the datasheet; of a current the range
 * @param value in base units of its dimension
 * @param standardUncertainty u, in the same unit, above 0
 * @param degC temperature of the unit, degC; empty if nobody set one
 * @param terminalV voltage at the terminals meanwhile, V; empty: into a short, or off
 */
public record PartValue(
    PartQuantity quantity,
    String of,
    double value,
    double standardUncertainty,
    OptionalDouble degC,
    OptionalDouble terminalV) {
  private static final String HEAD = "by hand: ";
  private static final String AT = ", unit at ";
  private static final String TERMINALS = ", terminals at ";

  private static final Pattern LINE =
      Pattern.compile(
          "by hand: (?<quantity>[a-z ]+?) of (?<of>.+) = (?<value>[^=,]+), u (?<u>[^,]+)"
              + "(?:, unit at (?<degC>[^,]+))?(?:, terminals at (?<volt>[^,]+))?");

  /** The quantity and part of the value. @return for example {@code resistance of R2} */
  public String name() {
    return quantity.text() + " of " + of;
  }

  /**
   * The value times a factor.
   *
   * @param factor above 0
   * @return value and u times the factor
   */
  public PartValue times(double factor) {
    return new PartValue(
        quantity, of, value * factor, standardUncertainty * factor, degC, terminalV);
  }

  /**
   * The line of the logbook.
   *
   * @return text that {@link #parse} reads back
   */
  public String text() {
    Dimension dimension = quantity.dimension();
    StringBuilder line = new StringBuilder(HEAD).append(name());
    line.append(" = ").append(QuantityText.print(value, dimension));
    line.append(", u ").append(QuantityText.print(standardUncertainty, dimension, 3));
    degC.ifPresent(t -> line.append(AT).append(QuantityText.print(t, Dimension.TEMPERATURE)));
    terminalV.ifPresent(
        v -> line.append(TERMINALS).append(QuantityText.print(v, Dimension.VOLTAGE)));
    return line.toString();
  }

  /**
   * Reads a line of the logbook.
   *
   * @param line any text
   * @return the value; empty if the line is about something else
   */
  public static Optional<PartValue> parse(String line) {
    Matcher found = LINE.matcher(line);
    if (!found.matches()) {
      return Optional.empty();
    }
    try {
      return PartQuantity.byText(found.group("quantity")).map(q -> read(q, found));
    } catch (QuantityException e) {
      return Optional.empty();
    }
  }

  private static PartValue read(PartQuantity quantity, Matcher found) {
    return new PartValue(
        quantity,
        found.group("of"),
        QuantityText.parse(found.group("value"), quantity.dimension()),
        QuantityText.parse(found.group("u"), quantity.dimension()),
        at(found, "degC", Dimension.TEMPERATURE),
        at(found, "volt", Dimension.VOLTAGE));
  }

  private static OptionalDouble at(Matcher found, String group, Dimension dimension) {
    return Optional.ofNullable(found.group(group))
        .map(text -> OptionalDouble.of(QuantityText.parse(text, dimension)))
        .orElse(OptionalDouble.empty());
  }
}
