// SPDX-License-Identifier: Apache-2.0
package millrace.cli.draft;

import com.google.re2j.Pattern;
import com.google.re2j.PatternSyntaxException;
import java.util.Arrays;
import java.util.List;
import millrace.datasheet.RecalibrationInterval;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/** A first datasheet: ranges, compliance, and the two limits common to all sources. */
public final class StarterDatasheet {
  /** The share of the compliance voltage up to which a draft promises the current. */
  private static final double PROMISED = 0.9;

  private StarterDatasheet() {}

  /**
   * Asks the questions and writes the file.
   *
   * @param ask asks the person
   * @return the text of the file
   */
  public static String text(StarterFileInterview ask) {
    StringBuilder file = new StringBuilder();
    file.append("# What a kind of unit promises. 'millrace schema datasheet' lists every key.\n");
    line(file, "datasheet", ask.text("What is the kind of unit called", ""));
    line(
        file, "serial", ask.ask("What do serial numbers look like", "[A-Z0-9-]+", s -> pattern(s)));
    line(file, "reference temperature", degC(ask));
    line(file, "open-circuit voltage", volt(ask, "Highest voltage at open terminals", "15 V"));
    String compliance = volt(ask, "Up to which voltage does the current hold", "10 V");
    String criterion =
        ask.positive("By how much may it have fallen there", Dimension.RATIO, "0.1 %");
    file.append(
        "compliance: {voltage: %s, criterion: %s, relative to: line}\n"
            .formatted(compliance, criterion));
    String rule =
        ask.choice(
            "How is a result judged near its limit",
            List.of("simple", "guarded", "guarded four outcomes"),
            "guarded");
    file.append("decision: {rule: %s}\n".formatted(rule));
    line(
        file,
        "recalibrate",
        ask.ask("After how long is a unit to be calibrated again", "12 months", s -> interval(s)));
    supply(file, ask);
    ranges(file, ask);
    limits(file, ask, compliance);
    return file.toString();
  }

  private static void line(StringBuilder file, String key, String value) {
    file.append(key).append(": ").append(YamlTextEscaping.of(value)).append('\n');
  }

  private static String degC(StarterFileInterview ask) {
    return ask.quantity("Reference temperature", Dimension.TEMPERATURE, "23 degC");
  }

  private static String volt(StarterFileInterview ask, String question, String usual) {
    return ask.positive(question, Dimension.VOLTAGE, usual);
  }

  private static String pattern(String text) {
    try {
      Pattern.compile(text);
      return text;
    } catch (PatternSyntaxException e) {
      throw new IllegalArgumentException(e.getDescription(), e);
    }
  }

  private static String interval(String text) {
    RecalibrationInterval.parse(text);
    return text;
  }

  /** Without it no supply would be switched on. */
  private static void supply(StringBuilder file, StarterFileInterview ask) {
    String feed = "What feeds the unit from outside: a supply of the bench, or its own";
    if (ask.choice(feed, List.of("supply", "own"), "supply").equals("supply")) {
      file.append(
              "# What it is made of; 'millrace schema datasheet' tells how to name all parts.\n")
          .append("parts:\n")
          .append(
              "  S1: {kind: supply, voltage: %s}\n"
                  .formatted(YamlTextEscaping.of(volt(ask, "Voltage of the supply", "18 V"))));
    }
  }

  private static void ranges(StringBuilder file, StarterFileInterview ask) {
    List<String> nominal =
        ask.ask(
            "Nominal current of each range, with commas between",
            "100 uA, 1 mA",
            StarterDatasheet::currents);
    file.append("ranges:\n");
    nominal.forEach(
        current ->
            file.append(
                "  %s: {nominal: %s}\n".formatted(name(current), YamlTextEscaping.of(current))));
  }

  private static List<String> currents(String answer) {
    List<String> all = Arrays.stream(answer.split(",")).map(String::strip).toList();
    for (String current : all) {
      if (QuantityText.parse(current, Dimension.CURRENT) == 0) {
        throw new IllegalArgumentException("a range of 0 A is none.");
      }
    }
    if (all.stream().map(StarterDatasheet::name).distinct().count() < all.size()) {
      throw new IllegalArgumentException("two ranges are the same.");
    }
    return all;
  }

  /** {@code 100 uA} becomes the range {@code 100uA}. */
  private static String name(String current) {
    return YamlTextEscaping.of(
        QuantityText.print(QuantityText.parse(current, Dimension.CURRENT), Dimension.CURRENT)
            .replace(" ", ""));
  }

  /** The current is promised up to nine tenths of the compliance voltage, where it still holds. */
  private static void limits(StringBuilder file, StarterFileInterview ask, String compliance) {
    String error = ask.positive("Largest error of the current", Dimension.RATIO, "100 ppm");
    String tempco =
        ask.positive("Largest temperature coefficient", Dimension.RATIO_PER_KELVIN, "10 ppm/K");
    file.append("limits:\n");
    double upToV = PROMISED * QuantityText.parse(compliance, Dimension.VOLTAGE);
    limit(
        file,
        "current_error",
        error,
        ",\n     when: {terminal voltage: [0 V, %s]}"
            .formatted(YamlTextEscaping.of(QuantityText.print(upToV, Dimension.VOLTAGE, 3))));
    limit(file, "tempco", tempco, "");
  }

  private static void limit(StringBuilder file, String quantity, String most, String when) {
    file.append(
        "  - {quantity: %s, range: all, lower: %s, upper: %s%s}\n"
            .formatted(quantity, YamlTextEscaping.of("-" + most), YamlTextEscaping.of(most), when));
  }
}
