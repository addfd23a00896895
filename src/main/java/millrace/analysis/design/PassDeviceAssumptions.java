// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.design;

import java.util.Optional;

/**
 * Assumed properties of a pass device that a datasheet does not state, with their spreads. Common
 * practice, no source, where none is named; every prediction says so.
 *
 * <p>The amplifier moves the control terminal by 1/mu of what the output moves, mu = g_m r_o the
 * device's own voltage gain: V_A/(I/g_m), with I/g_m = kT/q in a bipolar device. The base takes
 * 1/beta of the current, and beta rises with the voltage across the device (Early) and by about 0.7
 * % per kelvin. Source: Gray, Hurst, Lewis and Meyer, Analysis and Design of Analog Integrated
 * Circuits, 4th ed., Wiley 2001, 1.3 and 1.4 (from memory).
 *
 * @param gateGain mu of an insulated gate, above 0
 * @param gateTimes it may be this many times more or less, 1 or more
 * @param bipolarGain mu of a bipolar device, above 0
 * @param bipolarTimes it may be this many times more or less, 1 or more
 * @param perV 1/V_A, by which beta rises per volt across the device, 1/V
 * @param perVSpread half-width of that, 1/V
 * @param betaAtV the voltage across the device at which a datasheet's beta holds, V, 0 or more
 * @param perK relative fall of the base current per kelvin, 1/K
 * @param perKSpread half-width of that, 1/K
 * @param dropV voltage that the device needs to work; its half-width is as large, V
 * @param stageDropV the same of an amplifier's output where there is no pass device, V
 */
public record PassDeviceAssumptions(
    double gateGain,
    double gateTimes,
    double bipolarGain,
    double bipolarTimes,
    double perV,
    double perVSpread,
    double betaAtV,
    double perK,
    double perKSpread,
    double dropV,
    double stageDropV) {

  /**
   * An own gain of 3 to 600 or 750 to 12,000, V_A 40 V to 670 V, 0.25 to 0.95 %/K, up to 1 or 2 V.
   */
  public static final PassDeviceAssumptions USUAL =
      new PassDeviceAssumptions(40, 15, 3000, 4, 0.0135, 0.012, 5, 6e-3, 3.5e-3, 0.6, 1);

  /** Checks that no figure can change sign. */
  public PassDeviceAssumptions {
    if (!(gateGain > 0 && bipolarGain > 0 && gateTimes >= 1 && bipolarTimes >= 1)) {
      throw new IllegalArgumentException("an own gain is above 0, its factor 1 or more");
    }
    if (!(perV >= perVSpread && perVSpread >= 0 && perK >= perKSpread && perKSpread >= 0)) {
      throw new IllegalArgumentException("a base current's changes have their stated sign");
    }
    if (!(dropV >= 0 && stageDropV >= 0 && betaAtV >= 0)) {
      throw new IllegalArgumentException("voltages of a pass device are 0 V or more");
    }
  }

  /** Expected drop of a range's last stage, equal to its half-width, V. */
  double dropV(Optional<DesignPart.PassDevice> device) {
    return device.isPresent() ? dropV : stageDropV;
  }

  /**
   * Factor of the base current against that at the stated voltage.
   *
   * @param acrossV voltage across the device, V; below 0 counts as 0
   * @param perVOff deviation of 1/V_A, 1/V
   */
  double baseFactor(double acrossV, double perVOff) {
    double w = perV + perVOff;
    return (1 + w * betaAtV) / (1 + w * Math.max(0, acrossV));
  }

  /** 1/mu of a nominal device. */
  double inverseGain(DesignPart.PassDevice device) {
    return 1 / (device.beta().isPresent() ? bipolarGain : gateGain);
  }

  /** Half-width of the logarithm of mu. */
  double gainSpread(DesignPart.PassDevice device) {
    return Math.log(device.beta().isPresent() ? bipolarTimes : gateTimes);
  }
}
