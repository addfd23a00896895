// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.linearity;

import java.util.List;
import java.util.Optional;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.analysis.uncertainty.ResultBuilder.Subject;
import millrace.evidence.MeasurementModel;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;

/**
 * The ratio of two ranges against its nominal, where one meter range serves both, so that the
 * meter's gain cancels (methods.md 4.3). Pure; thread-safe.
 */
public final class RangeRatio {
  private static final double PPM = 1e6;

  private RangeRatio() {}

  /**
   * The current of one range.
   *
   * @param range its name
   * @param nominalA I_N, A
   * @param meterRange the meter and its range that measured it
   * @param currentA the current, A
   */
  public record Side(String range, double nominalA, String meterRange, Estimate currentA) {}

  /**
   * (I_a/I_b)/(I_Na/I_Nb) - 1 (methods.md 4.3).
   *
   * @param a the range that the result is of
   * @param b the range in the denominator, named in the conditions as other_range
   * @param at further conditions
   * @param coverage probability of the interval
   * @return range_ratio_error in ppm of the nominal ratio, or the reason why not
   */
  public static Result of(Side a, Side b, ResultConditions at, double coverage) {
    Subject subject =
        new Subject(
            ResultQuantity.RANGE_RATIO_ERROR,
            Optional.of(a.range()),
            at.with(ResultConditionKey.OTHER_RANGE, b.range()),
            Optional.of("nominal ratio"),
            "(I_a/I_b)/(I_Na/I_Nb) - 1, Methods of Millrace 4.3",
            coverage);
    if (!a.meterRange().equals(b.meterRange())) {
      return ResultBuilder.missing(
          subject,
          "measured in two meter ranges (%s and %s), needs one that serves both"
              .formatted(a.meterRange(), b.meterRange()),
          2);
    } else if (a.nominalA() == 0 || b.nominalA() == 0 || b.currentA().value() == 0) {
      return ResultBuilder.missing(subject, "a nominal or measured current of 0 has no ratio", 2);
    }
    Estimate ratio = a.currentA().over(b.currentA());
    Estimate error = ratio.times(b.nominalA() / a.nominalA()).plus(-1);
    return ResultBuilder.value(subject, error.times(PPM), 2, List.of())
        .by(
            MeasurementModel.of("E = (I_a/I_b)/(I_Na/I_Nb) - 1")
                .with("I_a", "A", a.currentA().value())
                .with("I_b", "A", b.currentA().value())
                .with("I_Na", "A", a.nominalA())
                .with("I_Nb", "A", b.nominalA()));
  }
}
