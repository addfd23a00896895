// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

/** A number that a state of the unit predicts: the logarithm of a current, or a voltage. */
@FunctionalInterface
interface UnitModelOutput {
  double at(double[] state);
}
