// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.OptionalDouble;

/**
 * A condition for a prediction: a temperature, and a terminal voltage or a load.
 *
 * @param temperatureDegC temperature of the unit, degC
 * @param voltageV terminal voltage in the direction of the current, V; empty where a load is given
 * @param loadOhm everything in series, ohm, 0 or more; empty where a voltage is given
 * @param supplyV supply voltage, V; empty for the usual one
 * @param timeS from the start of the run, s; empty for its middle
 */
public record PredictionCondition(
    double temperatureDegC,
    OptionalDouble voltageV,
    OptionalDouble loadOhm,
    OptionalDouble supplyV,
    OptionalDouble timeS) {

  /** Checks that one of voltage and load is given. */
  public PredictionCondition {
    if (voltageV.isPresent() == loadOhm.isPresent()) {
      throw new IllegalArgumentException("a condition has a voltage or a load, one of them");
    }
    if (loadOhm.isPresent() && !(loadOhm.getAsDouble() >= 0)) {
      throw new IllegalArgumentException(
          "load is " + loadOhm.getAsDouble() + " ohm, must be 0 or more");
    }
  }

  /**
   * A condition at a terminal voltage.
   *
   * @param temperatureDegC degC
   * @param voltageV in the direction of the current, V
   * @return the condition
   */
  public static PredictionCondition atVoltage(double temperatureDegC, double voltageV) {
    return new PredictionCondition(
        temperatureDegC,
        OptionalDouble.of(voltageV),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        OptionalDouble.empty());
  }

  /**
   * A condition at a load.
   *
   * @param temperatureDegC degC
   * @param loadOhm everything in series, ohm, 0 or more
   * @return the condition
   */
  public static PredictionCondition atLoad(double temperatureDegC, double loadOhm) {
    return new PredictionCondition(
        temperatureDegC,
        OptionalDouble.empty(),
        OptionalDouble.of(loadOhm),
        OptionalDouble.empty(),
        OptionalDouble.empty());
  }

  /**
   * The same at a supply voltage.
   *
   * @param volts of the supply, V; empty for the usual one
   * @return the condition
   */
  public PredictionCondition withSupply(OptionalDouble volts) {
    return new PredictionCondition(temperatureDegC, voltageV, loadOhm, volts, timeS);
  }
}
