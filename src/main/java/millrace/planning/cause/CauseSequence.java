// SPDX-License-Identifier: Apache-2.0
package millrace.planning.cause;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import millrace.analysis.causes.FurtherMeasurement;
import millrace.evidence.part.AskedPartValue;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/** Writes measurements as a sequence file that a person can read, run and change. */
final class CauseSequence {
  private final String title;
  private final List<String> rivals;
  private final CauseScope scope;
  private final List<FurtherMeasurement> all;
  private final StringBuilder out = new StringBuilder();

  private CauseSequence(
      String title, List<String> rivals, CauseScope scope, List<FurtherMeasurement> all) {
    this.title = title;
    this.rivals = rivals;
    this.scope = scope;
    this.all = all;
  }

  /**
   * The text of the file.
   *
   * @param title the title of the sequence
   * @param rivals the causes that it separates, by name
   * @param scope the bench
   * @param all the measurements, as the bench can make them
   */
  static String of(
      String title, List<String> rivals, CauseScope scope, List<FurtherMeasurement> all) {
    CauseSequence writer = new CauseSequence(title, rivals, scope, all);
    writer.head();
    writer.steps();
    return writer.out.toString();
  }

  private void line(int deep, String text) {
    out.append("  ".repeat(deep)).append(text).append('\n');
  }

  private void head() {
    line(0, "# Separates these causes:");
    rivals.forEach(r -> line(0, "#   " + r));
    line(0, "# Run it with the same unit, then give 'millrace plan cause' both runs.");
    line(0, "sequence: " + quoted(title));
    line(0, "readings: {count: 10, line cycles: 10, voltage: 2}");
    line(0, "settle: {wait: 1 s}");
    line(0, "on failure: go on flagged");
    line(0, "");
    line(0, "steps:");
  }

  private void steps() {
    line(1, "# Wiring and polarity first; then what is measured at room temperature.");
    line(1, "- in slots: all");
    line(2, "do: trial lap");
    currents(1, c -> scope.isAmbient(c));
    asks(1, c -> scope.isAmbient(c));
    List<Double> hot = new ArrayList<>(elsewhere());
    if (!hot.isEmpty()) {
      line(1, "# The unit must be warm or cold for the rest; it ends at room temperature.");
      for (double degC : hot) {
        stay(degC);
      }
      home();
    }
  }

  private Set<Double> elsewhere() {
    Set<Double> degC = new TreeSet<>();
    for (FurtherMeasurement m : all) {
      degC.addAll(temperatures(m));
    }
    degC.removeIf(scope::isAmbient);
    return degC;
  }

  private static List<Double> temperatures(FurtherMeasurement m) {
    return m instanceof FurtherMeasurement.OfCurrent c
        ? List.of(c.degC())
        : ((FurtherMeasurement.ByHand) m).degC();
  }

  private void stay(double degC) {
    line(1, "- at temperatures: [" + QuantityText.print(degC, Dimension.TEMPERATURE) + "]");
    line(2, "ramp: 2 K/min");
    line(
        2,
        "soak: {within: 2 ppm, at least: 10 min, at most: 2 h, if it takes longer: go on flagged}");
    line(2, "do:");
    currents(3, t -> t == degC);
    asks(3, t -> t == degC);
  }

  /** The unit returns to room temperature: water would condense on a cold one. */
  private void home() {
    String reference =
        QuantityText.print(scope.datasheet().referenceTemperatureDegC(), Dimension.TEMPERATURE);
    line(1, "- at temperatures: [" + reference + "]");
    line(2, "ramp: 2 K/min");
    line(2, "soak: {within: 100 ppm, at least: 10 min, at most: 30 min}");
    line(2, "do:");
    line(3, "- wait: 1 s");
  }

  /** The temperature in words. */
  private interface Where {
    boolean at(double degC);
  }

  private void currents(int deep, Where where) {
    Map<String, Set<Double>> volts = new LinkedHashMap<>();
    for (FurtherMeasurement m : all) {
      if (m instanceof FurtherMeasurement.OfCurrent c && where.at(c.degC())) {
        line(deep, "# " + c.words());
        Set<Double> each = volts.computeIfAbsent(c.range(), r -> new TreeSet<>());
        CauseScope.BELOW_IT.forEach(share -> each.add(tidy(share * c.terminalV())));
        each.add(tidy(c.terminalV()));
      }
    }
    if (volts.isEmpty()) {
      return;
    }
    line(deep, "- in slots: all");
    line(deep + 1, "do:");
    volts.forEach((range, each) -> range(deep + 2, range, each));
  }

  private void range(int deep, String range, Set<Double> volts) {
    line(deep, "- in ranges: [" + quoted(range) + "]");
    line(deep + 1, "do:");
    line(deep + 2, "- zero");
    line(
        deep + 2,
        volts.stream()
            .map(v -> QuantityText.print(v, Dimension.VOLTAGE))
            .collect(Collectors.joining(", ", "- over loads: {voltage: [", "]}")));
    line(deep + 3, "sweep: both");
  }

  private static double tidy(double volts) {
    return Math.round(volts * 1e3) / 1e3;
  }

  private void asks(int deep, Where where) {
    Set<FurtherMeasurement.ByHand> here = new LinkedHashSet<>();
    for (FurtherMeasurement m : all) {
      if (m instanceof FurtherMeasurement.ByHand b && b.degC().stream().anyMatch(where::at)) {
        here.add(b);
      }
    }
    if (here.isEmpty()) {
      return;
    }
    line(deep, "# A person measures here, and types what the instrument shows. Switch the source");
    line(
        deep,
        "# off before you open the unit or touch it; work on an open unit under power is for");
    line(
        deep, "# those who are licensed to do it, by the local rules, above 60 V DC all the more.");
    for (FurtherMeasurement.ByHand b : here) {
      AskedPartValue asked = b.asked();
      line(deep, "- ask: " + quoted(PartQuestions.of(asked, scope.datasheet())));
      line(deep + 1, "answer: " + answer(asked));
    }
  }

  private static String answer(AskedPartValue asked) {
    String u =
        asked.relativeU() > 0
            ? QuantityText.print(asked.relativeU(), Dimension.RATIO)
            : QuantityText.print(asked.absoluteU(), asked.quantity().dimension());
    String volts =
        asked.terminalV().isPresent()
            ? ", terminal voltage: "
                + QuantityText.print(tidy(asked.terminalV().getAsDouble()), Dimension.VOLTAGE)
            : "";
    return "{quantity: %s, of: %s, u: %s%s}"
        .formatted(asked.quantity().text(), quoted(asked.of()), u, volts);
  }

  /** Quotes a name as one word of the file, whatever it contains. */
  private static String quoted(String name) {
    return "'" + name.replace("'", "''") + "'";
  }
}
