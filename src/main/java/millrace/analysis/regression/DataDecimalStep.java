// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.regression;

import java.util.List;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.quantity.NumberText;

/**
 * The step of the last decimal that data were given with, told from the data alone, for data that
 * state no uncertainty: rounding to it is an error that scatter does not show where all values
 * round to the same (JCGM 100:2008, F.2.2.1).
 */
public final class DataDecimalStep {
  /** The coarsest step that is believed, and the finest that a double can tell, of the largest. */
  private static final int COARSEST = 4;

  private static final int FINEST = 12;
  private static final double NEAR = 1e-2;

  private DataDecimalStep() {}

  /**
   * The coarsest power of ten of which all values are multiples (methods.md 2.1).
   *
   * @param values what was given; may be empty
   * @return the step, in their unit; 0 where there is none
   */
  public static double of(List<Estimate> values) {
    double largest = 0;
    for (Estimate each : values) {
      largest = Math.max(largest, Math.abs(each.value()));
    }
    if (!(largest > 0)) {
      return 0;
    }
    int magnitude = NumberText.decade(largest);
    for (int below = COARSEST; below <= FINEST; below++) {
      double step = NumberText.powerOfTen(magnitude - below);
      if (values.stream().allMatch(each -> multiple(each.value(), step))) {
        return step;
      }
    }
    return 0;
  }

  /**
   * The error of one value by its rounding (methods.md 2.1).
   *
   * @param step the step, above 0
   * @param group what shares the error: {@link ErrorSource#POINT} for each value's own
   * @param key which of the group
   * @param unit the unit of values and step
   * @return within half a step either way
   */
  public static ErrorSource rounding(double step, String group, String key, String unit) {
    return ErrorSource.within("decimals of the data", group, key, step / 2, unit);
  }

  private static boolean multiple(double value, double step) {
    double steps = value / step;
    double arithmetic = 4 * Math.ulp(steps);
    return Math.abs(steps - Math.rint(steps)) <= Math.min(NEAR, 1e-6 + arithmetic);
  }
}
