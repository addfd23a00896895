// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.basis;

import java.util.List;
import java.util.Optional;
import millrace.analysis.batch.BatchMeanAndSpread;
import millrace.evidence.ResultQuantity;
import millrace.logbook.BatchJudgedValue;

/**
 * The distribution of temperature coefficients of one range over the units of a batch (methods.md
 * 11.6).
 *
 * @param units number of units, 3 or more
 * @param meanPerK their mean, 1/K
 * @param sdPerK their standard deviation, 1/K, 0 or more
 */
public record TempcoSpread(int units, double meanPerK, double sdPerK) {
  /** Fewer units than this give no spread. */
  private static final int FEWEST = 3;

  /** Least uncertainty of a tempco taken from other units, 1/K. */
  private static final double LEAST_PER_K = 1e-9;

  private static final double PPM = 1e-6;

  /** The spread among the judged values of a batch; empty if too few units have a tempco. */
  public static Optional<TempcoSpread> among(List<BatchJudgedValue> batch, String range) {
    double[] perK =
        batch.stream()
            .filter(v -> v.quantity() == ResultQuantity.TEMPCO)
            .filter(v -> v.range().equals(Optional.of(range)))
            .mapToDouble(v -> v.value() * PPM)
            .toArray();
    if (perK.length < FEWEST) {
      return Optional.empty();
    }
    BatchMeanAndSpread spread = BatchMeanAndSpread.of(perK);
    return Optional.of(new TempcoSpread(perK.length, spread.mean(), spread.sd()));
  }

  /**
   * Standard uncertainty of the tempco of one more unit, 1/K: s sqrt(1 + 1/n) with Student's t over
   * normal at n - 1 degrees of freedom, as the variance (n - 1)/(n - 3) of Student's t has it where
   * that exists (JCGM 101:2008, 6.4.9.4).
   */
  public double ofOneMorePerK() {
    double student = units > FEWEST ? Math.sqrt((units - 1.0) / (units - FEWEST)) : 2;
    return Math.max(LEAST_PER_K, sdPerK * Math.sqrt(1 + 1.0 / units) * student);
  }
}
