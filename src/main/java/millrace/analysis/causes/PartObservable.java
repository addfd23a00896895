// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.function.DoubleUnaryOperator;

/**
 * A value of a part as a number that the model predicts (methods.md 9): of what is known as a share
 * the logarithm, of the rest the value itself.
 *
 * @param output what the model predicts of it
 * @param measured the same from a value in the quantity's unit
 * @param slope of measured over value, at a value
 * @param value the value from what the model predicts
 */
record PartObservable(
    UnitModelOutput output,
    DoubleUnaryOperator measured,
    DoubleUnaryOperator slope,
    DoubleUnaryOperator value) {

  /** Of a value above 0 that is known as a share of itself. */
  static PartObservable ofLogarithm(UnitModelOutput value) {
    return new PartObservable(
        x -> Math.log(Math.max(value.at(x), 1e-30)), Math::log, v -> 1 / v, Math::exp);
  }

  /** Of a value that may be 0. */
  static PartObservable ofValue(UnitModelOutput value) {
    return new PartObservable(value, v -> v, v -> 1, v -> v);
  }

  /** Of a resistance whose conductance the model knows. */
  static PartObservable ofReciprocal(UnitModelOutput conductance) {
    return new PartObservable(
        conductance, v -> 1 / v, v -> -1 / (v * v), g -> 1 / Math.max(g, 1e-30));
  }
}
