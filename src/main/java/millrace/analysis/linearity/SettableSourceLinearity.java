// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.linearity;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import millrace.analysis.linearity.CharacteristicLinearity.Knot;
import millrace.analysis.regression.LinearFitOfEstimates;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.analysis.uncertainty.ResultBuilder.Subject;
import millrace.evidence.MeasurementModel;
import millrace.evidence.Result;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;

/**
 * A settable source over its set value: linearity in ppm of the span of I, gain error and offset
 * error (methods.md 4.2). Pure; thread-safe.
 */
public final class SettableSourceLinearity {
  private static final double PPM = 1e6;

  private SettableSourceLinearity() {}

  /**
   * The current at one set value.
   *
   * @param key its name, different for each point
   * @param setA the set value, A
   * @param currentA the current, A
   */
  public record SetPoint(String key, double setA, Estimate currentA) {}

  /**
   * What the results are of.
   *
   * @param range the range
   * @param at conditions that all points share
   * @param coverage probability of intervals
   */
  public record Question(String range, ResultConditions at, double coverage) {
    private Subject subject(ResultQuantity quantity, Optional<String> base, String method) {
      return new Subject(quantity, Optional.of(range), at, base, method, coverage);
    }
  }

  /**
   * Linearity, gain error = slope - 1 and offset error = intercept of the weighted least-squares
   * line of I over the set value (methods.md 4.2; IEC 61298-2, from memory).
   *
   * @param points in any order; may be empty
   * @param question what they are of
   * @return the four linearity results, gain_error and offset_error
   */
  public static List<Result> of(List<SetPoint> points, Question question) {
    double[] currents = points.stream().mapToDouble(p -> p.currentA().value()).toArray();
    double span = Arrays.stream(currents).max().orElse(0) - Arrays.stream(currents).min().orElse(0);
    List<Knot> knots = points.stream().map(p -> new Knot(p.setA(), p.currentA())).toList();
    Subject linearity =
        question.subject(
            ResultQuantity.LINEARITY_INDEPENDENT,
            Optional.of("span of I"),
            "current over set value, Methods of Millrace 4.2");
    List<Result> results =
        new ArrayList<>(
            CharacteristicLinearity.results(
                knots, linearity, new CharacteristicLinearity.Axes(span, "I_set", "A"), List.of()));
    results.addAll(line(points, question));
    return results;
  }

  private static List<Result> line(List<SetPoint> points, Question question) {
    Subject gain =
        question.subject(
            ResultQuantity.GAIN_ERROR,
            Optional.of("set value"),
            "slope over the set value less one, Methods of Millrace 4.2");
    Subject offset =
        question.subject(
            ResultQuantity.OFFSET_ERROR,
            Optional.empty(),
            "intercept over the set value, Methods of Millrace 4.2");
    int n = points.size();
    double[] set = points.stream().mapToDouble(SetPoint::setA).toArray();
    if (Arrays.stream(set).distinct().count() < 2) {
      String reason = "fewer than 2 different set values: set more";
      return List.of(
          ResultBuilder.missing(gain, reason, n), ResultBuilder.missing(offset, reason, n));
    }
    double[] ones = new double[n];
    Arrays.fill(ones, 1);
    LinearFitOfEstimates fit =
        LinearFitOfEstimates.of(
            new double[][] {ones, set},
            points.stream().map(SetPoint::currentA).toList(),
            points.stream().map(SetPoint::key).toList(),
            "A");
    List<String> notes = new ArrayList<>();
    if (fit.birge() > 1) {
      notes.add("the points scatter about the line by more than their u: u is widened");
    }
    return List.of(
        ResultBuilder.value(gain, fit.coefficient(1).plus(-1).times(PPM), n, notes)
            .by(line("E = s - 1, s of the line I_i = I_0 + s I_set,i", points)),
        ResultBuilder.value(offset, fit.coefficient(0), n, notes)
            .by(line("I_0 of the line I_i = I_0 + s I_set,i", points)));
  }

  private static MeasurementModel line(String equation, List<SetPoint> points) {
    return MeasurementModel.of(equation)
        .with("I_set,i", "A", points.stream().map(SetPoint::setA).toList())
        .with("I_i", "A", points.stream().map(p -> p.currentA().value()).toList());
  }
}
