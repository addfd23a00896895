// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What the source of an imported reading states of its error.
 *
 * @param u standard uncertainty of this reading alone, in the unit of the reading, 0 or more
 * @param common standard uncertainty fully correlated within the group, same unit, 0 or more
 * @param commonRelative the same as a ratio (a gain), 0 or more
 * @param group the group that shares the common errors
 * @param meterRange range of the meter
 */
public record StatedUncertainty(
    OptionalDouble u,
    OptionalDouble common,
    OptionalDouble commonRelative,
    Optional<String> group,
    Optional<String> meterRange) {

  /** Nothing stated. */
  public static final StatedUncertainty NOTHING =
      new StatedUncertainty(
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          Optional.empty(),
          Optional.empty());

  /**
   * A point-wise standard uncertainty alone.
   *
   * @param u in the unit of the reading
   * @return what is stated
   */
  public static StatedUncertainty of(double u) {
    return new StatedUncertainty(
        OptionalDouble.of(u),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        Optional.empty(),
        Optional.empty());
  }

  /** Checks sizes. */
  public StatedUncertainty {
    refuseNegative("u", u);
    refuseNegative("common u", common);
    refuseNegative("relative common u", commonRelative);
  }

  private static void refuseNegative(String name, OptionalDouble value) {
    if (value.isPresent() && !(value.getAsDouble() >= 0 && value.getAsDouble() < 1e300)) {
      throw new IllegalArgumentException(
          name + " is " + value.getAsDouble() + ", must be 0 or more and finite");
    }
  }

  /** Tells whether something common to several readings is stated. */
  boolean shared() {
    return group.isPresent() || meterRange.isPresent();
  }
}
