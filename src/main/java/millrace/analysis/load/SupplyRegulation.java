// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import millrace.analysis.regression.LinearFitOfEstimates;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.analysis.uncertainty.ResultBuilder.Subject;
import millrace.evidence.MeasurementModel;
import millrace.evidence.Result;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;

/** Supply regulation, and leakage with the source off (methods.md 3.6). Pure; thread-safe. */
public final class SupplyRegulation {
  private static final double PPM = 1e6;

  private SupplyRegulation() {}

  /**
   * The current at one supply voltage.
   *
   * @param key its name, different for each point
   * @param supplyV supply voltage, V
   * @param currentA current out of the unit, A
   */
  public record SupplyPoint(String key, Estimate supplyV, Estimate currentA) {}

  /**
   * Slope of I over supply voltage in ppm of I_N per volt, by weighted least squares (methods.md
   * 3.6).
   *
   * @param points at least two of different voltage for a value
   * @param question range, nominal and coverage
   * @param at the conditions
   * @return supply_regulation, a value or the reason why not
   */
  public static Result of(
      List<SupplyPoint> points, LoadSweepRequest question, ResultConditions at) {
    Subject subject =
        new Subject(
            ResultQuantity.SUPPLY_REGULATION,
            Optional.of(question.range()),
            at,
            Optional.of("I_N"),
            "weighted least squares over supply voltage, Methods of Millrace 3.6",
            question.coverage());
    int n = points.size();
    double[] v = points.stream().mapToDouble(p -> p.supplyV().value()).toArray();
    double low = Arrays.stream(v).min().orElse(0);
    double high = Arrays.stream(v).max().orElse(0);
    if (!(high > low)) {
      return ResultBuilder.missing(
          subject, n + " supply voltages, needs at least 2 that differ: sweep the supply", n);
    } else if (question.nominalA() == 0) {
      return ResultBuilder.missing(
          subject, "the nominal current is 0, ppm are not counted of it", n);
    }
    double[] ones = new double[n];
    double[] away = new double[n];
    for (int i = 0; i < n; i++) {
      ones[i] = 1;
      away[i] = v[i] - low;
    }
    double[][] columns = {ones, away};
    List<String> keys = points.stream().map(SupplyPoint::key).toList();
    double slope =
        LinearFitOfEstimates.of(
                columns, points.stream().map(SupplyPoint::currentA).toList(), keys, "A")
            .value(1);
    List<Estimate> effective = new ArrayList<>();
    for (SupplyPoint p : points) {
      effective.add(p.currentA().plus(p.supplyV().errorsOnly().times(-slope)));
    }
    LinearFitOfEstimates fit = LinearFitOfEstimates.of(columns, effective, keys, "A");
    List<String> notes = new ArrayList<>();
    if (fit.birge() > 1) {
      notes.add("the points scatter about the line by more than their u: u is widened");
    }
    if (n == 2) {
      notes.add("a line through 2 points: their scatter is not seen");
    }
    return ResultBuilder.value(
            subject, fit.coefficient(1).times(PPM / Math.abs(question.nominalA())), n, notes)
        .by(
            MeasurementModel.of("S = (dI/dS)/I_N of the line I_i = I_0 + (dI/dS) S_i")
                .with("I_N", "A", question.nominalA())
                .with("S_i", "V", Arrays.stream(v).boxed().toList())
                .with("I_i", "A", points.stream().map(p -> p.currentA().value()).toList()));
  }

  /**
   * Current with the source off (methods.md 3.6).
   *
   * @param currentsA the readings of one condition, A
   * @param range the range; empty for the whole unit
   * @param at applied voltage and temperature
   * @param coverage probability of the interval
   * @return off_leakage, a value or the reason why not
   */
  public static Result offLeakage(
      List<Estimate> currentsA, Optional<String> range, ResultConditions at, double coverage) {
    Subject subject =
        new Subject(
            ResultQuantity.OFF_LEAKAGE,
            range,
            at,
            Optional.empty(),
            "mean with the source off, Methods of Millrace 3.6",
            coverage);
    if (currentsA.isEmpty()) {
      return ResultBuilder.missing(subject, "no readings with the source off", 0);
    }
    return ResultBuilder.value(subject, Estimate.mean(currentsA), currentsA.size(), List.of())
        .by(
            MeasurementModel.of("I = mean of I_i")
                .with("I_i", "A", currentsA.stream().map(Estimate::value).toList()));
  }
}
