// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

import java.util.List;
import java.util.Optional;

/**
 * The distributions of the true errors of a simulated bench, as half-widths of rectangles; the
 * bench file for it states the same values.
 *
 * @param ammeter the current meter; its resistance is its burden
 * @param voltmeter the voltmeter; its resistance is that of its input
 * @param load the decade load
 * @param chamber the chamber
 * @param unitThermometerK of the thermometer at the unit, K
 * @param wiring of the loop
 * @param shunt in the loop, read by a voltmeter in the place of the current meter, whose ranges are
 *     then in V and whose resistance is that of its input; empty if the current meter reads current
 */
public record SimulatedBenchSpec(
    MeterSpec ammeter,
    MeterSpec voltmeter,
    LoadSpec load,
    ChamberSpec chamber,
    double unitThermometerK,
    WiringSpec wiring,
    Optional<ShuntSpec> shunt) {

  /**
   * A shunt, which is at room temperature.
   *
   * @param ohm its value at 23 degC without power, ohm, above 0
   * @param spread its largest error, a ratio
   * @param linearPerK a, 1/K
   * @param quadraticPerK2 b, 1/K2
   * @param powerPerW p, 1/W
   */
  public record ShuntSpec(
      double ohm, double spread, double linearPerK, double quadraticPerK2, double powerPerW) {
    /** Checks the range. */
    public ShuntSpec {
      SimValueChecks.above0("shunt in ohm", ohm);
    }

    /** Its nominal value at a temperature, degC, and power, W, in ohm, without its error. */
    public double atOhm(double degC, double powerW) {
      double k = degC - 23;
      return ohm * (1 + linearPerK * k + quadraticPerK2 * k * k + powerPerW * powerW);
    }
  }

  /**
   * A meter.
   *
   * @param fullScales of its ranges, A or V, rising; not empty
   * @param ofReading gain, a ratio
   * @param ofRange offset, a ratio of the full scale
   * @param transfer linearity within a range, a ratio of the full scale
   * @param resistanceOhm at its terminals, of each range, ohm
   * @param resistance relative spread of resistanceOhm
   * @param noiseOfRange rms over one cycle of the line, a ratio of the full scale
   * @param resolution a ratio of the full scale
   * @param driftPerDay largest drift of the gain, a ratio per day; one drift for all ranges
   */
  public record MeterSpec(
      List<Double> fullScales,
      double ofReading,
      double ofRange,
      double transfer,
      List<Double> resistanceOhm,
      double resistance,
      double noiseOfRange,
      double resolution,
      double driftPerDay) {
    /**
     * The same meter with a gain that drifts.
     *
     * @param perDay largest drift, a ratio per day
     * @return the meter
     */
    public MeterSpec drifting(double perDay) {
      return new MeterSpec(
          fullScales,
          ofReading,
          ofRange,
          transfer,
          resistanceOhm,
          resistance,
          noiseOfRange,
          resolution,
          perDay);
    }

    /** Copies the lists and checks that their sizes match. */
    public MeterSpec {
      fullScales = List.copyOf(fullScales);
      resistanceOhm = List.copyOf(resistanceOhm);
      SimValueChecks.notEmpty("ranges of a meter", fullScales.size());
      if (fullScales.size() != resistanceOhm.size()) {
        throw new IllegalArgumentException(
            "%s ranges and %s resistances of a meter; expected as many of both"
                .formatted(fullScales.size(), resistanceOhm.size()));
      }
    }
  }

  /**
   * A decade load.
   *
   * @param ofReading error of each decade, a ratio
   * @param residualOhm largest resistance at a setting of 0, ohm
   */
  public record LoadSpec(double ofReading, double residualOhm) {}

  /**
   * A chamber.
   *
   * @param sensorK error of its own thermometer, which controls it, K
   * @param rampKPerS fastest change, K/s, above 0
   * @param airS time constant of its air, s, above 0
   * @param overshootK overshoot of the air, K, 0 or more
   * @param purged true if dry air prevents dew while the door is closed
   */
  public record ChamberSpec(
      double sensorK, double rampKPerS, double airS, double overshootK, boolean purged) {
    /** Checks the ranges. */
    public ChamberSpec {
      SimValueChecks.above0("ramp in K/s", rampKPerS);
      SimValueChecks.above0("time constant of the air in s", airS);
      SimValueChecks.from0("overshoot in K", overshootK);
    }

    /**
     * The chamber of the fixed comparison of bench time: 2 K/min, 3 K of overshoot, air of 4 min.
     *
     * @return the specification
     */
    public static ChamberSpec comparison() {
      return new ChamberSpec(0.5, 2.0 / 60, 240, 3, true);
    }
  }

  /**
   * The wiring.
   *
   * @param leadsOhm resistance of the leads, ohm
   * @param leads relative spread of leadsOhm
   * @param insulationOhm from the high lead to ground, ohm, above 0
   * @param voltmeterUpstream true if the voltmeter sits at the unit's terminals
   * @param thermalV thermal voltage of the voltmeter's leads, V
   */
  public record WiringSpec(
      double leadsOhm,
      double leads,
      double insulationOhm,
      boolean voltmeterUpstream,
      double thermalV) {
    /**
     * A wiring without thermal voltages.
     *
     * @param leadsOhm resistance of the leads, ohm
     * @param leads relative spread of leadsOhm
     * @param insulationOhm from the high lead to ground, ohm, above 0
     * @param voltmeterUpstream true if the voltmeter sits at the unit's terminals
     */
    public WiringSpec(
        double leadsOhm, double leads, double insulationOhm, boolean voltmeterUpstream) {
      this(leadsOhm, leads, insulationOhm, voltmeterUpstream, 0);
    }

    /** Checks the insulation. */
    public WiringSpec {
      SimValueChecks.above0("insulation in ohm", insulationOhm);
    }
  }

  /**
   * The bench of the demo.
   *
   * @return the specification
   */
  public static SimulatedBenchSpec demo() {
    return new SimulatedBenchSpec(
        new MeterSpec(
            List.of(2e-6, 20e-6, 200e-6, 2e-3, 20e-3),
            25e-6,
            4e-6,
            0.2e-6,
            List.of(5e3, 500.0, 50.0, 5.0, 0.5),
            0.01,
            1.5e-6,
            0.5e-6,
            0),
        new MeterSpec(
            List.of(1.0, 10.0, 100.0),
            20e-6,
            3e-6,
            0,
            List.of(10e9, 10e9, 10e9),
            0.05,
            1e-6,
            0.1e-6,
            0),
        new LoadSpec(200e-6, 15e-3),
        new ChamberSpec(0.5, 3.0 / 60, 240, 1.5, true),
        0.08,
        new WiringSpec(0.15, 0.2, 1e14, false),
        Optional.empty());
  }

  /**
   * The same bench with another current meter.
   *
   * @param other the meter
   * @return the bench with it
   */
  public SimulatedBenchSpec with(MeterSpec other) {
    return new SimulatedBenchSpec(other, voltmeter, load, chamber, unitThermometerK, wiring, shunt);
  }

  /**
   * The same bench with a shunt in the place of its current meter.
   *
   * @param other the shunt
   * @param across the voltmeter that reads it, ranges in V
   * @return the bench with both
   */
  public SimulatedBenchSpec with(ShuntSpec other, MeterSpec across) {
    return new SimulatedBenchSpec(
        across, voltmeter, load, chamber, unitThermometerK, wiring, Optional.of(other));
  }

  /**
   * The same bench around another chamber.
   *
   * @param other the chamber
   * @return the bench with it
   */
  public SimulatedBenchSpec with(ChamberSpec other) {
    return new SimulatedBenchSpec(ammeter, voltmeter, load, other, unitThermometerK, wiring, shunt);
  }

  /**
   * The same bench wired in another way.
   *
   * @param other the wiring
   * @return the bench with it
   */
  public SimulatedBenchSpec with(WiringSpec other) {
    return new SimulatedBenchSpec(
        ammeter, voltmeter, load, chamber, unitThermometerK, other, shunt);
  }
}
