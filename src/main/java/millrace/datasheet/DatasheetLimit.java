// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.ConditionBox;
import millrace.evidence.Limit;
import millrace.evidence.ResultQuantity;
import millrace.fault.FilePlace;

/**
 * A limit of the datasheet, with the conditions it holds for (methods.md 7.1).
 *
 * @param place its place in the file
 * @param quantity the limited quantity
 * @param range the range it holds for; empty for all
 * @param lower lower side in the unit of the quantity; empty if open
 * @param upper upper side in the unit of the quantity; empty if open
 * @param when the conditions it holds for
 */
public record DatasheetLimit(
    FilePlace place,
    ResultQuantity quantity,
    Optional<String> range,
    Optional<Side> lower,
    Optional<Side> upper,
    ConditionBox when) {

  /**
   * One side of a limit: a figure, and for relative quantities an absolute current beside it.
   *
   * @param value in the unit of the quantity
   * @param plusA added current, A; 0 or more
   */
  public record Side(double value, double plusA) {
    /**
     * The side for one range.
     *
     * @param nominalA nominal current, A, which turns the added current into ppm
     * @param sign -1 for a lower side, 1 for an upper
     * @return in the unit of the quantity
     */
    double in(double nominalA, int sign) {
      return plusA == 0
          ? value
          : ResultDimension.tidy(value + sign * plusA / Math.abs(nominalA) * 1e6);
    }
  }

  /** Checks the order of the sides. */
  public DatasheetLimit {
    new Limit(
        lower.map(s -> OptionalDouble.of(s.value())).orElseGet(OptionalDouble::empty),
        upper.map(s -> OptionalDouble.of(s.value())).orElseGet(OptionalDouble::empty));
  }

  /**
   * The limit for one range.
   *
   * @param nominalA nominal current of the range, A
   * @return the limit in the unit of the quantity
   */
  public Limit limit(double nominalA) {
    return new Limit(
        lower.map(s -> OptionalDouble.of(s.in(nominalA, -1))).orElseGet(OptionalDouble::empty),
        upper.map(s -> OptionalDouble.of(s.in(nominalA, 1))).orElseGet(OptionalDouble::empty));
  }

  /**
   * Tells whether the limit applies to a range.
   *
   * @param name the range
   * @return true if it is for all or for this one
   */
  public boolean isFor(Optional<String> name) {
    return range.isEmpty() || range.equals(name);
  }
}
