// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import java.util.List;
import java.util.Optional;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.calibration.Shunt;

/**
 * From meter readings to the current out of the unit and the voltage at its terminals (methods.md
 * 1.1 to 1.4, 1.6). Pure; thread-safe.
 */
public final class CurrentFromReadings {
  private CurrentFromReadings() {}

  /**
   * The current through a series ammeter: I = x0 + c(x0), x0 = reading - zero (methods.md 1.1).
   *
   * @param readingA the reading, A
   * @param zeroA the zero that counts for it, A
   * @param table the certificate's corrections
   * @return I, A; empty where x0 lies beyond the certificate
   */
  public static Optional<Estimate> throughAmmeterA(
      Estimate readingA, Estimate zeroA, CertificateCorrectionTable table) {
    return table.corrected(readingA.minus(zeroA));
  }

  /**
   * The resistance of a shunt as its certificate has it (methods.md 1.2).
   *
   * @param shunt the shunt
   * @return R_cal, ohm
   */
  public static Estimate shuntOhm(Shunt shunt) {
    double ohm = shunt.calibratedOhm();
    double u = ohm * shunt.uncertainty();
    return Estimate.exact(ohm)
        .with(
            ErrorSource.normal("shunt", ErrorSource.INSTRUMENT_AND_RANGE, "the shunt", u, "ohm"),
            1);
  }

  /**
   * The current through a shunt: I = (V_s - V_zero)(1/R_s + 1/R_in), R_s = R_cal (1 + a dT + b dT^2
   * + p (P_s - P_cal)), P_s = V_s^2/R_cal (methods.md 1.2).
   *
   * @param voltageV V_s - V_zero, V
   * @param shunt the shunt
   * @param shuntDegC T_s, the shunt's own temperature, degC
   * @param inputOhm R_in of the voltmeter across it, ohm; empty: so high that it takes nothing
   * @return I, A
   */
  public static Estimate throughShuntA(
      Estimate voltageV, Shunt shunt, Estimate shuntDegC, Optional<Estimate> inputOhm) {
    Estimate cal = shuntOhm(shunt);
    double dT = shuntDegC.value() - shunt.calibratedAtDegC();
    double power = voltageV.value() * voltageV.value() / cal.value();
    double factor =
        1
            + shunt.linearPerK() * dT
            + shunt.quadraticPerK2() * dT * dT
            + shunt.powerPerW() * (power - shunt.calibratedAtW());
    double p = shunt.powerPerW();
    Estimate ohm =
        Estimate.function(
            cal.value() * factor,
            new double[] {
              factor - p * power,
              cal.value() * (shunt.linearPerK() + 2 * shunt.quadraticPerK2() * dT),
              p * 2 * voltageV.value()
            },
            List.of(cal, shuntDegC, voltageV));
    Estimate through = voltageV.over(ohm);
    return inputOhm.map(r -> through.plus(voltageV.over(r))).orElse(through);
  }

  /**
   * The current out of the unit where a voltmeter upstream of the ammeter takes its share: V/R_in
   * is added back (methods.md 1.3).
   *
   * @param measuredA behind the voltmeter, A
   * @param voltageV at the voltmeter, V
   * @param inputOhm R_in, ohm
   * @return A
   */
  public static Estimate withVoltmeterUpstreamA(
      Estimate measuredA, Estimate voltageV, Estimate inputOhm) {
    return measuredA.plus(voltageV.over(inputOhm));
  }

  /**
   * The voltage at the terminals from a voltmeter across the load: reading + burden + leads
   * (methods.md 1.1, 1.3).
   *
   * @param readingV across the load, V
   * @param currentA I, A
   * @param inLoopOhm burden and leads, ohm
   * @return V
   */
  public static Estimate terminalVoltageV(
      Estimate readingV, Estimate currentA, Estimate inLoopOhm) {
    return readingV.plus(currentA.times(inLoopOhm));
  }

  /**
   * Signal of a pair of readings with exchanged leads: (x+ - x-)/2 (methods.md 1.4).
   *
   * @param plus x+
   * @param minus x-
   * @return the signal, free of offsets that did not change sign
   */
  public static Estimate reversed(Estimate plus, Estimate minus) {
    return plus.minus(minus).times(0.5);
  }

  /**
   * Offset of such a pair: (x+ + x-)/2 (methods.md 1.4).
   *
   * @param plus x+
   * @param minus x-
   * @return meter offset and thermal EMF
   */
  public static Estimate reversalOffset(Estimate plus, Estimate minus) {
    return plus.plus(minus).times(0.5);
  }
}
