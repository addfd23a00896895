// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.Optional;

/**
 * Prior knowledge of coefficients, one row of the fit: a linear combination with a mean and a
 * standard deviation (methods.md 11.1, 11.6).
 *
 * @param weights of the coefficients, in the order of the columns
 * @param mean of the combination
 * @param sd its standard deviation, above 0
 * @param name of the row in a budget
 * @param unit of the combination
 * @param from its source; empty for a default, which is an assumption
 */
@SuppressWarnings("ArrayRecordComponent") // read only in this package, never compared
record CoefficientPrior(
    double[] weights,
    double mean,
    double sd,
    String name,
    String unit,
    Optional<BorrowedCoefficients> from) {
  boolean assumed() {
    return from.isEmpty();
  }
}
