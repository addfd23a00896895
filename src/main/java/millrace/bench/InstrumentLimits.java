// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.util.Optional;
import millrace.quantity.ClosedInterval;

/**
 * The limits of an instrument's set points and of the voltage at its input; no set point beyond
 * them is ever sent.
 *
 * @param mostV largest voltage of a supply, V, 0 or more; empty: not stated
 * @param mostA largest current of a supply, A, above 0; empty: not stated
 * @param betweenDegC lowest and highest set point of a chamber, degC; empty: not stated
 * @param mostKPerS fastest ramp of a chamber, K/s, above 0; empty: not stated
 * @param inputV largest voltage that a meter's input bears, V, above 0; empty: not stated
 */
public record InstrumentLimits(
    Optional<Double> mostV,
    Optional<Double> mostA,
    Optional<ClosedInterval> betweenDegC,
    Optional<Double> mostKPerS,
    Optional<Double> inputV) {
  /** Nothing stated. */
  public static final InstrumentLimits NONE =
      new InstrumentLimits(
          Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());

  /** Checks the ranges. */
  public InstrumentLimits {
    boolean good =
        mostV.orElse(0.0) >= 0
            && mostA.orElse(1.0) > 0
            && mostKPerS.orElse(1.0) > 0
            && inputV.orElse(1.0) > 0;
    if (!good) {
      throw new IllegalArgumentException(
          "an instrument is allowed at most %s V and %s A, a ramp of %s K/s, an input of %s V; expected all above 0"
              .formatted(mostV, mostA, mostKPerS, inputV));
    }
  }

  static InstrumentLimits supply(double mostV, double mostA) {
    return new InstrumentLimits(
        Optional.of(mostV),
        Optional.of(mostA),
        Optional.empty(),
        Optional.empty(),
        Optional.empty());
  }

  static InstrumentLimits chamber(
      Optional<ClosedInterval> betweenDegC, Optional<Double> mostKPerS) {
    return new InstrumentLimits(
        Optional.empty(), Optional.empty(), betweenDegC, mostKPerS, Optional.empty());
  }

  static InstrumentLimits input(Optional<Double> inputV) {
    return new InstrumentLimits(
        Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), inputV);
  }
}
