// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.OptionalDouble;

/**
 * One row of an uncertainty budget, in the form of JCGM 100:2008, annex H.1 (methods.md 2.3).
 *
 * @param component the source of the error, for example {@code meter noise}
 * @param group the group that shares the error: errors of one group are fully correlated; {@code
 *     point} means each point has its own
 * @param value its standard uncertainty in its own unit, 0 or more
 * @param unit the unit of value
 * @param distribution the shape assumed for it
 * @param sensitivity change of the result per unit of value, in units of the result per unit
 * @param contribution its part of the result's standard uncertainty, in units of the result, 0 or
 *     more
 * @param degreesOfFreedom of value; empty means infinite
 */
public record BudgetComponent(
    String component,
    String group,
    double value,
    String unit,
    ErrorDistribution distribution,
    double sensitivity,
    double contribution,
    OptionalDouble degreesOfFreedom) {

  /** Checks that numbers are finite and sizes not negative. */
  public BudgetComponent {
    if (!(value >= 0) || !(contribution >= 0) || !Double.isFinite(value + contribution)) {
      throw new IllegalArgumentException(
          "component '%s' has value %s and contribution %s, both must be finite and 0 or more"
              .formatted(component, value, contribution));
    }
    if (!Double.isFinite(sensitivity)) {
      throw new IllegalArgumentException(
          "component '%s' has sensitivity %s, must be finite".formatted(component, sensitivity));
    }
  }
}
