// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import java.util.Optional;
import millrace.analysis.uncertainty.Estimate;

/**
 * All that current and voltage of one point follow from, gathered before anything is computed.
 *
 * @param current what the current through the meter follows from
 * @param drift what check standards tell of the current meter; empty if nothing
 * @param inLoopOhm burden and leads, ohm
 * @param loadOhm the load as it was set, ohm; counts where no voltage was read
 * @param voltage what the voltmeter tells; empty where no voltage was read
 */
public record PointReductionInputs(
    CurrentReductionInputs current,
    Optional<Drift> drift,
    Estimate inLoopOhm,
    Estimate loadOhm,
    Optional<Voltage> voltage) {
  /**
   * What a check standard tells of a current (methods.md 2.7).
   *
   * @param seen the drift that it shows
   * @param sameRange true if it was read in the range of the meter that the point was read in
   * @param range the meter and the range that the point was read in
   * @param timeS when the point was read, from the start of the run, s
   */
  public record Drift(MeterDrift seen, boolean sameRange, String range, double timeS) {
    private Estimate corrected(Estimate amperes) {
      return sameRange ? seen.corrected(amperes, timeS) : seen.widened(amperes, timeS, range);
    }
  }

  /**
   * What a voltmeter tells.
   *
   * @param reading what it showed, V
   * @param upstream true if it sits before the current meter
   * @param inputOhm its input resistance, ohm; empty if not known: what it takes is left out
   */
  public record Voltage(
      LeadReversedReading reading, boolean upstream, Optional<Estimate> inputOhm) {}

  /**
   * What they come to.
   *
   * @param currentA out of the unit, A
   * @param voltageV at its terminals, V
   */
  public record Found(Estimate currentA, Estimate voltageV) {}

  /**
   * Current out of the unit and voltage at its terminals, by where the voltmeter sits (methods.md
   * 1.1 to 1.4, 2.7).
   *
   * @return empty where the current cannot be computed
   */
  public Optional<Found> found() {
    return current
        .currentA()
        .map(amperes -> drift.map(d -> d.corrected(amperes)).orElse(amperes))
        .map(this::wired);
  }

  private Found wired(Estimate amperes) {
    if (voltage.isEmpty()) {
      return new Found(amperes, amperes.times(inLoopOhm.plus(loadOhm)));
    }
    Estimate volts = voltage.get().reading().estimate();
    if (!voltage.get().upstream()) {
      return new Found(amperes, CurrentFromReadings.terminalVoltageV(volts, amperes, inLoopOhm));
    }
    Optional<Estimate> input = voltage.get().inputOhm();
    return new Found(
        input
            .map(ohm -> CurrentFromReadings.withVoltmeterUpstreamA(amperes, volts, ohm))
            .orElse(amperes),
        volts);
  }
}
