// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.design;

import java.util.List;
import java.util.Optional;
import millrace.evidence.ResultQuantity;

/**
 * What the parts predict of one quantity of one range.
 *
 * @param quantity which quantity, in its unit
 * @param range the range
 * @param otherRange the range it is compared with, for ratios and tracking
 * @param spread the prediction; empty if it cannot be made
 * @param missing what is missing, where there is no prediction
 */
public record DesignForecast(
    ResultQuantity quantity,
    String range,
    Optional<String> otherRange,
    Optional<Spread> spread,
    Optional<String> missing) {

  /** Checks that there is a prediction or a reason. */
  public DesignForecast {
    if (spread.isPresent() == missing.isPresent()) {
      throw new IllegalArgumentException("a forecast has either a spread or what is missing");
    }
  }

  /**
   * A prediction with its spread, in the unit of the quantity.
   *
   * @param nominal with every part at its nominal value
   * @param lowest worst case: every part at that end of its tolerance that makes it small
   * @param highest worst case the other way
   * @param rootSumSquare root of the sum of squares of the parts' effects at their half-widths; a
   *     half-width
   * @param mean over the drawn units
   * @param standardDeviation over the drawn units
   * @param lower lower end of the interval that holds the stated share of the drawn units,
   *     symmetric in probability
   * @param upper its upper end
   * @param shares contribution of each deviation, the largest first; without those of no effect
   */
  public record Spread(
      double nominal,
      double lowest,
      double highest,
      double rootSumSquare,
      double mean,
      double standardDeviation,
      double lower,
      double upper,
      List<DeviationContribution> shares) {
    /** Copies the list. */
    public Spread {
      shares = List.copyOf(shares);
    }
  }
}
