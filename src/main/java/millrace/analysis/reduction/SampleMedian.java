// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import org.apache.commons.math3.stat.descriptive.rank.Median;

/** The median of a few values. */
public final class SampleMedian {
  private SampleMedian() {}

  /**
   * The median; the mean of the two in the middle where their number is even.
   *
   * @param values finite values, any order; left as they are
   * @return their median, in their unit; NaN if there are none
   */
  public static double of(double[] values) {
    return new Median().evaluate(values);
  }
}
