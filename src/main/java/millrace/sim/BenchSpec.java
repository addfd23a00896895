package millrace.sim;

/**
 * The distributions that the true errors of a simulated bench are drawn from, as half-widths of
 * rectangles; the bench file that goes with it states the same.
 *
 * @param currentOfReading of the current meter
 * @param currentOfRange of the current meter
 * @param voltageOfReading of the voltmeter
 * @param voltageOfRange of the voltmeter
 * @param loadOfReading of the decade load
 * @param unitThermometerK of the thermometer at the unit
 * @param chamberK of the chamber's own thermometer
 * @param burden relative spread of the meter's burden
 * @param inputOhm input resistance of the voltmeter, ohm
 * @param input relative spread of it
 * @param leadsOhm resistance of the leads, ohm
 * @param insulationOhm from the high lead to ground, ohm
 * @param currentNoiseOfRange noise of the current meter at one cycle of the line, rms
 * @param voltageNoiseOfRange noise of the voltmeter at one cycle, rms
 * @param voltmeterUpstream true if the voltmeter sits at the unit's terminals
 * @param chamberRampKPerS fastest change of the chamber, K/s
 * @param chamberAirS time constant of its air, s
 * @param overshootK how far the air overshoots, K
 */
public record BenchSpec(
    double currentOfReading,
    double currentOfRange,
    double voltageOfReading,
    double voltageOfRange,
    double loadOfReading,
    double unitThermometerK,
    double chamberK,
    double burden,
    double inputOhm,
    double input,
    double leadsOhm,
    double insulationOhm,
    double currentNoiseOfRange,
    double voltageNoiseOfRange,
    boolean voltmeterUpstream,
    double chamberRampKPerS,
    double chamberAirS,
    double overshootK) {

  /**
   * The bench of the demo.
   *
   * @return the specification
   */
  public static BenchSpec demo() {
    return new BenchSpec(
        25e-6, 4e-6, 20e-6, 3e-6, 200e-6, 0.08, 0.5, 0.01, 10e9, 0.05, 0.15, 1e14, 1.5e-6, 1e-6,
        false, 3.0 / 60, 240, 1.5);
  }
}
