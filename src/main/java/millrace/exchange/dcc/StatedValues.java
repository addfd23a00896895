// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.dcc;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;

/**
 * The values of one quantity of a certificate, in base units, with their statements.
 *
 * @param kind of the values; a temperature counts as a difference here
 * @param values one or more
 * @param uncertainty U and k, as many as values; empty where none is stated
 */
record StatedValues(Dimension kind, List<Double> values, Optional<Uncertainties> uncertainty) {
  private static final BigDecimal ZERO_CELSIUS_K = BigDecimal.valueOf(27_315, 2);

  /** U and k of each value. */
  record Uncertainties(List<Double> expanded, List<Double> factors) {}

  /**
   * Reads {@code dcc:quantity}.
   *
   * @param quantity the element
   * @param absolute true if temperatures stand on a scale, false for differences
   */
  static StatedValues of(XmlElement quantity, boolean absolute) {
    List<XmlElement> forms = forms(quantity);
    if (forms.isEmpty()) {
      throw refusal(
          quantity.place(),
          "the values are in a form that is not read",
          "si:real," + " si:realListXMLList, or si:hybrid of these");
    }
    XmlElement chosen =
        forms.stream().filter(StatedValues::isCelsius).findFirst().orElse(forms.get(0));
    StatedValues values = read(chosen, absolute);
    if (values.uncertainty.isPresent()) {
      return values;
    }
    return forms.stream()
        .map(f -> read(f, absolute))
        .filter(v -> v.uncertainty.isPresent() && v.kind == values.kind)
        .findFirst()
        .map(v -> new StatedValues(values.kind, values.values, v.uncertainty))
        .orElse(values);
  }

  private static List<XmlElement> forms(XmlElement quantity) {
    List<XmlElement> forms = new ArrayList<>();
    for (XmlElement child : quantity.children()) {
      if (child.name().equals("real") || child.name().equals("realListXMLList")) {
        forms.add(child);
      } else if (child.name().equals("hybrid")) {
        forms.addAll(forms(child));
      }
    }
    return forms;
  }

  private static boolean isCelsius(XmlElement form) {
    return form.text("unitXMLList")
        .or(() -> form.text("unit"))
        .flatMap(SiUnit::parse)
        .filter(SiUnit::celsius)
        .isPresent();
  }

  private static StatedValues read(XmlElement form, boolean absolute) {
    String list = form.name().equals("real") ? "" : "XMLList";
    XmlElement units =
        form.at("unit" + list)
            .orElseThrow(() -> refusal(form.place(), "there is no unit", "si:unit" + list));
    SiUnit unit = unit(units);
    Dimension kind =
        unit.kind()
            .orElseThrow(
                () ->
                    refusal(
                        units.place(),
                        "'" + units.text() + "' is no unit of these tables",
                        "that of a current, voltage, resistance, temperature or ratio"));
    List<BigDecimal> numbers = numbers(form, "value" + list);
    boolean fromZero = absolute && kind == Dimension.TEMPERATURE_DIFFERENCE && !unit.celsius();
    List<Double> values =
        numbers.stream()
            .map(
                n ->
                    fromZero
                        ? kelvin(n, unit)
                        : n.multiply(BigDecimal.valueOf(unit.factor())).doubleValue())
            .toList();
    return new StatedValues(kind, values, uncertainty(form, list, unit, values.size()));
  }

  private static double kelvin(BigDecimal count, SiUnit unit) {
    return count.multiply(BigDecimal.valueOf(unit.factor())).subtract(ZERO_CELSIUS_K).doubleValue();
  }

  /** A list of units has one unit for all values, or the same unit for each. */
  private static SiUnit unit(XmlElement element) {
    List<String> different = Arrays.stream(element.text().split("\\s+")).distinct().toList();
    if (different.size() != 1) {
      throw refusal(element.place(), "the values of one list have several units", "one unit");
    }
    return SiUnit.parse(different.get(0))
        .orElseThrow(
            () ->
                refusal(
                    element.place(),
                    "the unit '" + different.get(0) + "' is not known here",
                    "a unit as D-SI writes it, such as \\ampere, \\milli\\volt or \\kelvin"));
  }

  private static Optional<Uncertainties> uncertainty(
      XmlElement form, String list, SiUnit unit, int n) {
    Optional<XmlElement> expanded = form.at("expandedUnc" + list);
    if (expanded.isPresent()) {
      return Optional.of(
          new Uncertainties(
              scaled(expanded.get(), "uncertainty" + list, unit.factor(), n),
              scaled(expanded.get(), "coverageFactor" + list, 1, n)));
    }
    return form.at("coverageInterval" + list)
        .map(
            i ->
                new Uncertainties(
                    scaled(i, "standardUnc" + list, unit.factor(), n),
                    List.copyOf(Collections.nCopies(n, 1.0))));
  }

  /** As many as values; a single one counts for all. */
  private static List<Double> scaled(XmlElement in, String name, double factor, int n) {
    List<Double> all =
        numbers(in, name).stream()
            .map(b -> b.multiply(BigDecimal.valueOf(factor)).doubleValue())
            .toList();
    if (all.size() == 1) {
      return Collections.nCopies(n, all.get(0));
    }
    if (all.size() != n) {
      throw refusal(
          in.at(name).orElse(in).place(),
          all.size() + " uncertainties or factors for " + n + " values",
          "one for all, or one for each");
    }
    return all;
  }

  private static List<BigDecimal> numbers(XmlElement in, String name) {
    XmlElement element =
        in.at(name)
            .filter(e -> !e.text().isEmpty())
            .orElseThrow(() -> refusal(in.place(), "there is no number", "si:" + name));
    List<BigDecimal> numbers = new ArrayList<>();
    for (String word : element.text().split("\\s+")) {
      OptionalDouble number = NumberText.parse(word);
      if (number.isEmpty()) {
        throw refusal(element.place(), "'" + word + "' is no number", "numbers, blanks between");
      }
      numbers.add(BigDecimal.valueOf(number.getAsDouble()));
    }
    return numbers;
  }

  static BadInputException refusal(FilePlace place, String found, String expected) {
    return new BadInputException(
        new InputFault(
            place,
            found,
            expected,
            "Ask who issued the certificate, or type the table" + " into the bench file by hand."));
  }
}
