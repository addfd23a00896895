// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import java.util.Optional;
import millrace.analysis.uncertainty.Estimate;
import millrace.calibration.AccuracyStatement;

/**
 * The mean of what a meter showed at one point, with what is stated of the meter.
 *
 * @param mean what it showed, with its noise
 * @param stated accuracy of the meter in that range
 * @param range instrument and range
 * @param name what errors of this point alone are known by
 * @param lab lab temperatures; empty if not known
 */
public record MeanMeterReading(
    Estimate mean,
    AccuracyStatement stated,
    MeterErrors.MeterRange range,
    String name,
    Optional<MeterErrors.Lab> lab) {
  /**
   * The reading with the errors of the statement (methods.md 2.2, 2.3).
   *
   * @return in the unit of the meter
   */
  public Estimate estimate() {
    return new MeterErrors(stated).applied(mean, range, name, lab);
  }
}
