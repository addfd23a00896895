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
 * From what a run counted of a shunt back to its voltage, and from there to the current through the
 * shunt as it was: at its own temperature and power, with what its certificate leaves open
 * (methods.md 1.2).
 *
 * @param shunt what the bench file states of it
 */
record ShuntCurrentReduction(Shunt shunt) {
  static Optional<ShuntCurrentReduction> of(BenchFile bench) {
    return bench.shuntInUse().map(ShuntCurrentReduction::new);
  }

  /**
   * The resistance by which a run turned volts into amperes, ohm; the bench may know better now.
   */
  double countedOhm(Point point) {
    return point.settings().currentMeter().shuntOhm().orElse(shunt.calibratedOhm());
  }

  /** R_cal as the certificate has it, ohm; the loop's burden too. */
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
