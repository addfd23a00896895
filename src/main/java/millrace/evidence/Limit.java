// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The interval that a result must lie in, in the unit of the result; one side may be open
 * (methods.md 7.1).
 *
 * @param lower the lower limit, empty if open
 * @param upper the upper limit, empty if open; above lower
 */
public record Limit(OptionalDouble lower, OptionalDouble upper) {

  /** Checks that one side is given and that they are in order. */
  public Limit {
    if (lower.isEmpty() && upper.isEmpty()) {
      throw new IllegalArgumentException("a limit has a lower or an upper side, found neither");
    }
    if (lower.isPresent() && upper.isPresent() && !(lower.getAsDouble() < upper.getAsDouble())) {
      throw new IllegalArgumentException(
          "the lower limit %s is not below the upper limit %s"
              .formatted(lower.getAsDouble(), upper.getAsDouble()));
    }
  }

  /**
   * Tells whether both sides are given.
   *
   * @return true if neither side is open
   */
  public boolean twoSided() {
    return lower.isPresent() && upper.isPresent();
  }

  /**
   * The acceptance limit: the limit with each side moved inward by the guard band (methods.md 7.2).
   *
   * @param band width of the guard band, in the unit of the limit, 0 or more
   * @return the acceptance limit; empty where the bands meet and nothing is left
   */
  public Optional<Limit> narrowed(double band) {
    boolean nothing = twoSided() && upper.getAsDouble() - lower.getAsDouble() <= 2 * band;
    return nothing
        ? Optional.empty()
        : Optional.of(new Limit(moved(lower, band), moved(upper, -band)));
  }

  private static OptionalDouble moved(OptionalDouble side, double by) {
    return side.isPresent() ? OptionalDouble.of(side.getAsDouble() + by) : side;
  }

  /**
   * The distance of a value to the limit.
   *
   * @param value in the unit of the limit
   * @return its distance to the nearer side, below 0 beyond it
   */
  public double distanceInside(double value) {
    double low = value - lower.orElse(Double.NEGATIVE_INFINITY);
    double high = upper.orElse(Double.POSITIVE_INFINITY) - value;
    return Math.min(low, high);
  }

  /**
   * Tells whether a value lies inside, the limits themselves included.
   *
   * @param value in the unit of the limit
   * @return true if inside
   */
  public boolean contains(double value) {
    return (lower.isEmpty() || value >= lower.getAsDouble())
        && (upper.isEmpty() || value <= upper.getAsDouble());
  }
}
