package millrace.analysis.causes;

import millrace.analysis.uncertainty.Estimate;

/** What was measured of a unit and can speak for or against a cause (measurement.md 9). */
public sealed interface Observation {

  /**
   * The range it is of.
   *
   * @return its name
   */
  String range();

  /**
   * A current on the plateau.
   *
   * @param range the range
   * @param terminalV voltage at the terminals, V
   * @param degC temperature of the unit, degC
   * @param current A, with the sign of the nominal current; its sources say what it shares with
   *     other currents
   * @param meter which meter took it
   */
  record OfCurrent(String range, double terminalV, double degC, Estimate current, String meter)
      implements Observation {}

  /**
   * A compliance voltage that was reached (a bound is no observation).
   *
   * @param range the range
   * @param compliance V, with its uncertainty
   */
  record OfCompliance(String range, Estimate compliance) implements Observation {}
}
