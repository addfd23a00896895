// SPDX-License-Identifier: Apache-2.0
package millrace.report.table;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import millrace.analysis.response.PredictionCondition;
import millrace.analysis.response.ResponsePrediction;
import millrace.assessment.Predictions.Answer;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;

/** Predictions for a terminal: the answer first, then its basis. */
public final class PredictTable {
  private static final int SHOWN = 4;
  private static final double LEAST_SHARE = 0.02;
  private static final double PPM = 1e6;
  private static final int DIGITS = 4;

  private PredictTable() {}

  /** One answer in full. */
  public static List<String> inFull(Answer answer) {
    List<String> lines = new ArrayList<>();
    lines.add(answer(answer));
    answer
        .prediction()
        .value()
        .ifPresent(
            v -> {
              lines.add("  " + v.text() + (v.extrapolated() ? "; extrapolated" : ""));
              v.leansOn()
                  .forEach(f -> lines.add("  not measured on this unit: from " + f.inWords()));
              dominates(answer).forEach(lines::add);
            });
    return lines;
  }

  /** Many answers, one line each. */
  public static List<String> lines(List<Answer> answers) {
    return answers.stream().map(PredictTable::answer).toList();
  }

  private static String answer(Answer a) {
    String where = "%s at %s: ".formatted(a.asked().range(), where(a.asked().condition()));
    if (a.prediction().value().isEmpty()) {
      return where + "no value: " + a.prediction().missing().orElse("");
    }
    ResponsePrediction.Value value = a.prediction().value().get();
    String marked = value.extrapolated() ? " (extrapolated)" : "";
    if (a.uncertainty().isEmpty()) {
      return where
          + QuantityText.print(value.currentA().value(), Dimension.CURRENT, 2 * DIGITS)
          + ", uncertainty not evaluated: none is known for the readings"
          + marked;
    }
    ComputationOutcome.Uncertainty u = a.uncertainty().get();
    QuantityText.Scale scale = QuantityText.scaleFor(value.currentA().value(), Dimension.CURRENT);
    return where
        + QuantityText.withUncertainty(
            value.currentA().value() / scale.size(), u.expanded() / scale.size(), scale.symbol())
        + ", error "
        + QuantityText.withUncertainty(
            value.errorPpm().value(), u.expanded() / Math.abs(a.nominalA()) * PPM, "ppm")
        + marked;
  }

  private static String where(PredictionCondition c) {
    List<String> words = new ArrayList<>();
    words.add(print(c.temperatureDegC(), Dimension.TEMPERATURE));
    add(words, c.loadOhm(), Dimension.RESISTANCE, "");
    add(words, c.voltageV(), Dimension.VOLTAGE, "");
    add(words, c.supplyV(), Dimension.VOLTAGE, "supply ");
    add(words, c.timeS(), Dimension.TIME, "after ");
    return String.join(", ", words);
  }

  private static void add(List<String> words, OptionalDouble value, Dimension of, String before) {
    if (value.isPresent()) {
      words.add(before + print(value.getAsDouble(), of));
    }
  }

  private static String print(double value, Dimension dimension) {
    return QuantityText.print(value, dimension);
  }

  /** The largest parts of the uncertainty, as shares of its square. */
  private static List<String> dominates(Answer answer) {
    double all =
        answer.budget().stream().mapToDouble(c -> c.contribution() * c.contribution()).sum();
    if (!(all > 0)) {
      return List.of();
    }
    String shares =
        answer.budget().stream()
            .sorted(Comparator.comparingDouble((BudgetComponent c) -> -Math.abs(c.contribution())))
            .filter(c -> c.contribution() * c.contribution() > LEAST_SHARE * all)
            .limit(SHOWN)
            .map(
                c ->
                    "%s %s %%"
                        .formatted(
                            c.component(),
                            NumberText.fixed(100 * c.contribution() * c.contribution() / all, 0)))
            .collect(Collectors.joining(", "));
    return List.of("  most of its uncertainty: " + shares);
  }

  /** A table of one range: a row per temperature, a column per voltage. */
  public static String grid(String range, List<Answer> answers) {
    List<Double> volts =
        answers.stream()
            .map(a -> a.asked().condition().voltageV().orElse(0))
            .distinct()
            .sorted()
            .toList();
    List<List<String>> rows = new ArrayList<>();
    List<String> head = new ArrayList<>();
    head.add("");
    volts.forEach(v -> head.add(print(v, Dimension.VOLTAGE)));
    rows.add(head);
    for (int i = 0; i < answers.size(); i += volts.size()) {
      List<String> row = new ArrayList<>();
      row.add(print(answers.get(i).asked().condition().temperatureDegC(), Dimension.TEMPERATURE));
      answers.subList(i, i + volts.size()).forEach(a -> row.add(cell(a)));
      rows.add(row);
    }
    return "range %s, error in ppm of I_N with its U\n".formatted(range) + aligned(rows);
  }

  private static String cell(Answer a) {
    if (a.prediction().value().isEmpty()) {
      return "-";
    }
    ResponsePrediction.Value value = a.prediction().value().get();
    String marked = value.extrapolated() ? " *" : "";
    if (a.uncertainty().isEmpty()) {
      return NumberText.significant(value.errorPpm().value(), DIGITS) + marked;
    }
    double expanded = a.uncertainty().get().expanded() / Math.abs(a.nominalA()) * PPM;
    String pair = QuantityText.withUncertainty(value.errorPpm().value(), expanded, "");
    return pair.substring(1, pair.length() - 1) + marked;
  }

  private static String aligned(List<List<String>> rows) {
    int columns = rows.get(0).size();
    int[] widths = new int[columns];
    for (List<String> row : rows) {
      for (int c = 0; c < columns; c++) {
        widths[c] = Math.max(widths[c], row.get(c).length());
      }
    }
    StringBuilder text = new StringBuilder();
    for (List<String> row : rows) {
      for (int c = 0; c < columns; c++) {
        text.append(" ".repeat(widths[c] - row.get(c).length() + (c == 0 ? 0 : 2)));
        text.append(row.get(c));
      }
      text.append('\n');
    }
    return text.toString().stripTrailing();
  }

  /** Missing measurements, each once. */
  public static List<String> wanting(List<Answer> answers) {
    return answers.stream()
        .flatMap(a -> a.prediction().missing().stream())
        .distinct()
        .limit(SHOWN)
        .map(m -> "no value: " + m)
        .toList();
  }
}
