// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import java.util.Arrays;

/** The median of a few values: for a few, ordering them is the fastest way. */
public final class SampleMedian {
  private SampleMedian() {}

  /**
   * The median; the mean of the two in the middle where their number is even.
   *
   * @param values finite values, any order; left as they are
   * @return their median, in their unit; NaN if there are none
   */
  public static double of(double[] values) {
    if (values.length == 0) {
      return Double.NaN;
    }
    double[] rising = values.clone();
    Arrays.sort(rising);
    double low = rising[(rising.length - 1) / 2];
    return low + (rising[rising.length / 2] - low) / 2;
  }
}
