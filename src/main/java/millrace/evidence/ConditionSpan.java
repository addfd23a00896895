// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

/**
 * A condition from one value to another, both included, in the unit of the condition.
 *
 * @param lower its lower end, finite
 * @param upper its upper end, finite, not below the lower
 */
public record ConditionSpan(double lower, double upper) {
  /** Checks the order. */
  public ConditionSpan {
    if (!(lower <= upper) || Double.isInfinite(lower) || Double.isInfinite(upper)) {
      throw new IllegalArgumentException(
          "the interval from " + lower + " to " + upper + " is upside down or has no end");
    }
  }

  /**
   * Tells whether a condition lies inside.
   *
   * @param value the condition
   * @param slack how far outside still counts, 0 or more, in the unit of the condition
   * @return true if inside
   */
  public boolean contains(double value, double slack) {
    return value >= lower - slack && value <= upper + slack;
  }
}
