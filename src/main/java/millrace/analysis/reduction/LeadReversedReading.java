// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Estimate;

/**
 * A reading, and where the unit's leads were exchanged too, the one taken then (methods.md 1.4).
 *
 * @param forward as connected
 * @param reversed with exchanged leads; empty if none was taken
 */
public record LeadReversedReading(MeanMeterReading forward, Optional<MeanMeterReading> reversed) {
  /**
   * The reading; of a pair half the difference.
   *
   * @return in the unit of the meter
   */
  public Estimate estimate() {
    Estimate plus = forward.estimate();
    return reversed.map(r -> CurrentFromReadings.reversed(plus, r.estimate())).orElse(plus);
  }

  /**
   * The offset that did not change sign with the leads.
   *
   * @return in the unit of the meter; empty without a pair
   */
  public OptionalDouble offset() {
    return reversed
        .map(r -> CurrentFromReadings.reversalOffset(forward.estimate(), r.estimate()).value())
        .map(OptionalDouble::of)
        .orElseGet(OptionalDouble::empty);
  }
}
