// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.reduction;

import java.util.Optional;
import millrace.analysis.reduction.CurrentReductionInputs;
import millrace.analysis.reduction.LeadReversedReading;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.bench.BenchFile;
import millrace.bench.role.RoleName;
import millrace.evidence.MeasuredSignal;
import millrace.logbook.CheckStandardLook;

/** What a look at a check standard tells of the current meter (methods.md 2.7, 8.3). Stateless. */
public final class CheckStandardReading {
  private CheckStandardReading() {}

  /**
   * The ratio of what the meter read, corrected as its certificate says, to what the standard
   * drives, less 1. Its errors are those that meter and standard are stated to have; the scatter of
   * the readings is not among them.
   *
   * @param bench the bench file of the run
   * @param look the look
   * @return without errors where the current is read across a shunt or nothing is stated of the
   *     meter; empty if the file has no such standard, or the reading lies beyond the certificate
   */
  public static Optional<Estimate> ratio(BenchFile bench, CheckStandardLook look) {
    BenchFile.Standard standard = bench.standards().get(look.standard());
    if (standard == null) {
      return Optional.empty();
    }
    StatedMeterErrors meter =
        new StatedMeterErrors(bench, RoleName.CURRENT_METER, MeasuredSignal.CURRENT, "A");
    if (ShuntCurrentReduction.of(bench).isPresent()
        || !meter.states(look.shownA(), look.meterRange())) {
      return Optional.of(Estimate.exact(look.shownA() / standard.currentA() - 1));
    }
    CurrentReductionInputs inputs =
        new CurrentReductionInputs(
            new LeadReversedReading(
                meter.reading(
                    Estimate.exact(look.shownA()),
                    look.meterRange(),
                    look.standard(),
                    Optional.empty()),
                Optional.empty()),
            new CurrentReductionInputs.Zero(0, Optional.empty()),
            meter.corrections(look.shownA(), look.meterRange()),
            Optional.empty());
    return inputs
        .currentA()
        .map(read -> read.times(1 / standard.currentA()).plus(-1))
        .map(ratio -> ratio.with(errorOf(look, standard), 1).with(movesOf(look, standard), 1));
  }

  private static ErrorSource errorOf(CheckStandardLook look, BenchFile.Standard standard) {
    return ErrorSource.normal(
        "check standard",
        ErrorSource.INSTRUMENT_AND_RANGE,
        look.standard(),
        standard.standardUncertaintyA() / Math.abs(standard.currentA()),
        "1");
  }

  private static ErrorSource movesOf(CheckStandardLook look, BenchFile.Standard standard) {
    return ErrorSource.within(
        "check standard between looks",
        ErrorSource.TEMPERATURE_STEP,
        look.standard(),
        standard.stability(),
        "1");
  }
}
