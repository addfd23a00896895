// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.reduction;

import java.util.List;
import java.util.Optional;
import millrace.analysis.load.LoadPoint;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.Point;
import millrace.evidence.PointKind;

/**
 * A point as a current at a voltage, with each error by name.
 *
 * @param point the point
 * @param name a name that no other point of the run has
 * @param stay which stay at a temperature it belongs to, from 0
 * @param timeS when, from the start of the run, s
 * @param currentA current out of the unit, A
 * @param voltageV voltage at its terminals, V
 * @param temperatureDegC temperature of the unit, degC; empty if not known
 * @param unsteady true if its readings scatter abnormally
 * @param notes notes on the point
 */
public record ReducedPoint(
    Point point,
    String name,
    int stay,
    double timeS,
    Estimate currentA,
    Estimate voltageV,
    Optional<Estimate> temperatureDegC,
    boolean unsteady,
    List<String> notes) {

  /** Its range; empty if not known. */
  public String range() {
    return point.conditions().range().orElse("");
  }

  /** The nominal current of its range, A; 0 if not known. */
  public double nominalA() {
    return point.conditions().nominalA().orElse(0);
  }

  /** The point as one of a load sweep. */
  public LoadPoint loadPoint() {
    boolean onTheWay = point.kind() == PointKind.KNEE;
    return new LoadPoint(
        name, voltageV, currentA, point.conditions().loadOhm(), timeS, unsteady, onTheWay);
  }

  /**
   * The same point with another current.
   *
   * @param amperes the current out of the unit, A
   */
  public ReducedPoint withCurrent(Estimate amperes) {
    return new ReducedPoint(
        point, name, stay, timeS, amperes, voltageV, temperatureDegC, unsteady, notes);
  }

  ReducedPoint inStay(int number) {
    return new ReducedPoint(
        point, name, number, timeS, currentA, voltageV, temperatureDegC, unsteady, notes);
  }
}
