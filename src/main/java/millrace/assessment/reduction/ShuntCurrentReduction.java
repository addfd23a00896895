// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.reduction;

import java.util.Optional;
import millrace.analysis.reduction.CurrentFromReadings;
import millrace.analysis.reduction.CurrentReductionInputs;
import millrace.analysis.uncertainty.Estimate;
import millrace.bench.BenchFile;
import millrace.calibration.Shunt;
import millrace.evidence.Point;

/**
 * Converts the run's current back to the voltage of the shunt, then to the current through the
 * shunt at its own temperature and power, with the uncertainty of its certificate (methods.md 1.2).
 *
 * @param shunt the shunt in the bench file
 */
record ShuntCurrentReduction(Shunt shunt) {
  static Optional<ShuntCurrentReduction> of(BenchFile bench) {
    return bench.shuntInUse().map(ShuntCurrentReduction::new);
  }

  /**
   * The resistance that the run used to convert volts to amperes, ohm; the bench file may state a
   * newer one.
   */
  double countedOhm(Point point) {
    return point.settings().currentMeter().shuntOhm().orElse(shunt.calibratedOhm());
  }

  /** R_cal of the certificate, ohm; also the loop's burden. */
  Estimate ohm() {
    return CurrentFromReadings.shuntOhm(shunt);
  }

  /**
   * The shunt as it was at a point.
   *
   * @param degC its own temperature; empty if it was not read
   * @param inputOhm of the voltmeter across it, ohm; empty if not stated
   */
  CurrentReductionInputs.ShuntFacts at(Optional<Estimate> degC, Optional<Estimate> inputOhm) {
    return new CurrentReductionInputs.ShuntFacts(shunt, degC, inputOhm);
  }
}
