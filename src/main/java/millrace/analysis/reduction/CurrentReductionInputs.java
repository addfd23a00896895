// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import java.util.Optional;
import millrace.analysis.uncertainty.Estimate;
import millrace.calibration.Shunt;

/**
 * The inputs of the current through the meter at one point.
 *
 * @param reading what the meter showed; of a meter across a shunt, V
 * @param zero what is taken off it
 * @param corrections of the certificate
 * @param shunt what the meter sat across; empty where it read current
 */
public record CurrentReductionInputs(
    LeadReversedReading reading,
    Zero zero,
    CertificateCorrectionTable corrections,
    Optional<ShuntFacts> shunt) {
  /**
   * The zero of a reading.
   *
   * @param kept as the run took it off, in the unit of the meter; 0 for none
   * @param reading as it was read, with its errors; empty where only the figure is known
   */
  public record Zero(double kept, Optional<MeanMeterReading> reading) {
    Estimate estimate() {
      return reading.map(MeanMeterReading::estimate).orElse(Estimate.exact(kept));
    }
  }

  /**
   * A shunt as it was at one point.
   *
   * @param shunt what is stated of it
   * @param degC its own temperature, degC; empty if it was not read
   * @param inputOhm of the voltmeter across it, ohm; empty if not stated
   */
  public record ShuntFacts(Shunt shunt, Optional<Estimate> degC, Optional<Estimate> inputOhm) {
    /**
     * Tells whether the current can be computed.
     *
     * @return false where the shunt goes with a temperature that was not read
     */
    public boolean known() {
      return !shunt.goesWithTemperature() || degC.isPresent();
    }

    private Estimate currentA(Estimate volts) {
      Estimate own = degC.orElse(Estimate.exact(shunt.calibratedAtDegC()));
      return CurrentFromReadings.throughShuntA(volts, shunt, own, inputOhm);
    }
  }

  /**
   * The current through the meter (methods.md 1.1, 1.2, 1.4).
   *
   * @return A; empty where the reading lies beyond the certificate, or the shunt's temperature is
   *     wanting
   */
  public Optional<Estimate> currentA() {
    Optional<Estimate> signal = signal();
    return shunt.isEmpty()
        ? signal
        : signal.filter(v -> shunt.get().known()).map(shunt.get()::currentA);
  }

  /**
   * Tells whether the certificate reaches the reading.
   *
   * @return false where it lies beyond its corrections
   */
  public boolean withinCertificate() {
    return signal().isPresent();
  }

  private Optional<Estimate> signal() {
    return CurrentFromReadings.throughAmmeterA(reading.estimate(), zero.estimate(), corrections);
  }
}
