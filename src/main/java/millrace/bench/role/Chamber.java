package millrace.bench.role;

/** Holds the unit at a temperature. */
public interface Chamber extends Sensor {
  /**
   * Sets where to go.
   *
   * @param temperatureDegC setpoint, degC
   * @param rampKPerS the fastest change, K/s, above 0; infinite for as fast as it can
   * @throws millrace.fault.InstrumentException if the chamber refuses or does not answer
   */
  void setpoint(double temperatureDegC, double rampKPerS);
}
