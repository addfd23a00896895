// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.design;

import java.util.OptionalDouble;

/** One quantity of a circuit as a function of its deviations. */
@FunctionalInterface
interface DesignQuantity {
  /** The value for deviations x; empty if it is not defined there. */
  OptionalDouble of(double[] x);
}
