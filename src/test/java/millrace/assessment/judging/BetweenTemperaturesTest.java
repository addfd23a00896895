// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.judging;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.CoverageFactors;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Expected values by hand: a leakage that doubles every 10 K, 5 ppm/V at 23 degC, and what changes
 * evenly.
 */
class BetweenTemperaturesTest {
  private static final double U = 0.05;

  private static LimitAnswerCandidate at(ResultQuantity quantity, double degC, double value) {
    return at(quantity, degC, value, U);
  }

  private static LimitAnswerCandidate at(
      ResultQuantity quantity, double degC, double value, double u) {
    Result result =
        ResultBuilder.value(
            new ResultBuilder.Subject(
                quantity,
                Optional.of("1uA"),
                ResultConditions.of(ResultConditionKey.TEMPERATURE_DEGC, degC),
                Optional.empty(),
                "by hand",
                CoverageFactors.USUAL),
            Estimate.exact(value)
                .with(
                    ErrorSource.normal("meter noise", ErrorSource.POINT, "all", u, quantity.unit()),
                    1),
            10,
            List.of());
    return new LimitAnswerCandidate(
        result, LimitAnswerCandidate.measured(result).covers(), OptionalDouble.of(degC));
  }

  private static ComputationOutcome.Value between(
      LimitAnswerCandidate a, LimitAnswerCandidate b, double degC) {
    return (ComputationOutcome.Value)
        new BetweenTemperatures(a, b, degC, CoverageFactors.USUAL)
            .found()
            .orElseThrow()
            .result()
            .outcome();
  }

  private static ComputationOutcome.Uncertainty u(ComputationOutcome.Value v) {
    return v.uncertainty().orElseThrow();
  }

  /** 5 2^((T - 23)/10), faster and slower ones, and some beside 3 ppm/V that do not change. */
  @ParameterizedTest
  @CsvSource({
    "23, 35, 28, 0, 10",
    "23, 35, 28, 0, 8",
    "5, 23, 18, 0, 10",
    "5, 23, 18, -3, 8",
    "23, 50, 28, 3, 8",
    "23, 50, 28, 3, 12",
    "23, 50, 40, 0, 10"
  })
  void theIntervalHoldsALeakageAndWhatChangesEvenly(
      double below, double above, double degC, double always, double doublesK) {
    ResultQuantity slope = ResultQuantity.LOAD_REGULATION;
    double first = always - 5 * Math.pow(2, (below - 23) / doublesK);
    double last = always - 5 * Math.pow(2, (above - 23) / doublesK);
    double leakage = always - 5 * Math.pow(2, (degC - 23) / doublesK);
    double even = first + (last - first) * (degC - below) / (above - below);

    ComputationOutcome.Value found = between(at(slope, below, first), at(slope, above, last), degC);

    assertTrue(Math.abs(found.value() - leakage) < u(found).expanded(), found.toString());
    assertTrue(Math.abs(found.value() - even) < u(found).expanded(), found.toString());
    ComputationOutcome.Value ohms =
        between(
            at(ResultQuantity.OUTPUT_RESISTANCE, below, 1e9 / 3.5 / Math.abs(first), 1),
            at(ResultQuantity.OUTPUT_RESISTANCE, above, 1e9 / 3.5 / Math.abs(last), 1),
            degC);
    double truth = 1e9 / 3.5 / Math.abs(leakage);
    assertTrue(Math.abs(ohms.value() - truth) < u(ohms).expanded(), ohms.toString());
  }

  /** Nothing changes: u stays as it is; near a visit, it is the visit's, whatever the other. */
  @ParameterizedTest
  @CsvSource({"23.001, 0.05, 0.05", "28, 0.05, 0.05", "23.001, 0.5, 0.05", "34.999, 0.5, 0.5"})
  void uncertaintyGoesOverFromOneVisitToTheNext(double degC, double other, double expected) {
    ComputationOutcome.Value found =
        between(
            at(ResultQuantity.LOAD_REGULATION, 23, -5),
            at(ResultQuantity.LOAD_REGULATION, 35, -5, other),
            degC);

    assertEquals(-5, found.value(), 1e-12);
    assertEquals(expected, u(found).standard(), expected * 0.002);
  }

  /** A voltage at the knee is taken as linear, with the larger U of both. */
  @ParameterizedTest
  @CsvSource({"23, 14.0", "28, 13.5", "33, 13.0"})
  void whatIsNoSlopeIsLinear(double degC, double expected) {
    ResultQuantity knee = ResultQuantity.COMPLIANCE_VOLTAGE;

    ComputationOutcome.Value found = between(at(knee, 13, 15), at(knee, 43, 12, 2 * U), degC);

    assertEquals(expected, found.value(), 1e-12);
    assertEquals(4 * U, u(found).expanded(), 1e-4);
  }
}
