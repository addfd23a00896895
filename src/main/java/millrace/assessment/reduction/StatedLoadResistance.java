// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.reduction;

import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.bench.LoadProperties;
import millrace.bench.RoleFacts;
import millrace.calibration.AccuracyStatement;

/**
 * A load setting with the statements of the bench file: its line of the certificate at the lab's
 * temperature, else its accuracy statement; the residual resistance at a setting of 0; leakage
 * across it (methods.md 1.6, 2.2).
 */
final class StatedLoadResistance {
  private StatedLoadResistance() {}

  static Estimate ohm(RoleFacts facts, double settingOhm, OptionalDouble labDegC) {
    LoadProperties box = facts.box();
    String instance = "load at " + settingOhm;
    Estimate set =
        box.calibrated(settingOhm)
            .map(line -> calibrated(line, labDegC, instance))
            .or(() -> facts.accuracy().stream().findFirst().map(a -> by(a, settingOhm, instance)))
            .orElse(Estimate.exact(settingOhm))
            .plus(box.residualOhm());
    double shunted = box.shuntedOhm(settingOhm);
    return shunted == 0
        ? set
        : set.with(
            ErrorSource.within(
                "load leakage", ErrorSource.INSTRUMENT_AND_RANGE, instance, shunted, "ohm"),
            1);
  }

  private static Estimate calibrated(
      LoadProperties.Value line, OptionalDouble labDegC, String instance) {
    return Estimate.exact(line.atOhm(labDegC.orElse(line.calibratedAtDegC())))
        .with(
            ErrorSource.normal(
                "load box",
                ErrorSource.INSTRUMENT_AND_RANGE,
                instance,
                line.standardUncertaintyOhm(),
                "ohm"),
            1);
  }

  /** Limits without a coverage factor, else an expanded uncertainty (methods.md 2.2). */
  private static Estimate by(AccuracyStatement stated, double settingOhm, String instance) {
    double most = stated.ofReading() * settingOhm + stated.absolute();
    Optional<Double> k = stated.coverageFactor();
    String group = ErrorSource.INSTRUMENT_AND_RANGE;
    ErrorSource source =
        k.isPresent()
            ? ErrorSource.normal("load box", group, instance, most / k.get(), "ohm")
            : ErrorSource.within("load box", group, instance, most, "ohm");
    return Estimate.exact(settingOhm).with(source, 1);
  }
}
