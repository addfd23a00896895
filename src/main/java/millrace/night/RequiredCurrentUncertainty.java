// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.bench.BenchFile;
import millrace.bench.check.BenchCheckFinding;
import millrace.bench.check.VoltmeterInputCheck;
import millrace.bench.role.RoleName;
import millrace.calibration.AccuracyStatement;
import millrace.datasheet.Datasheet;

/**
 * The uncertainty that the current needs in each range, for the check of the voltmeter's input
 * (methods.md 1.3).
 *
 * @param bench the bench file
 * @param sheet the datasheet
 */
public record RequiredCurrentUncertainty(BenchFile bench, Datasheet sheet) {

  /** One finding per range; none where no voltmeter sits upstream. */
  public List<BenchCheckFinding> of(OptionalDouble wantedRatio) {
    return sheet.ranges().values().stream()
        .flatMap(range -> asked(range, wantedRatio).stream())
        .flatMap(asked -> VoltmeterInputCheck.of(bench, asked).stream())
        .toList();
  }

  private Optional<VoltmeterInputCheck.Asked> asked(
      Datasheet.Range range, OptionalDouble wantedRatio) {
    double nominal = Math.abs(range.nominalA());
    OptionalDouble wanted =
        wantedRatio.isPresent()
            ? OptionalDouble.of(wantedRatio.getAsDouble() * nominal)
            : statedA(nominal);
    double most = sheet.complianceVoltageV(range.name()).or(sheet::openCircuitVoltageV).orElse(0.0);
    return wanted.isPresent()
        ? Optional.of(new VoltmeterInputCheck.Asked(range.name(), most, wanted.getAsDouble()))
        : Optional.empty();
  }

  /** The uncertainty of the current meter itself, if nothing else states one. */
  private OptionalDouble statedA(double nominal) {
    return bench.facts(RoleName.CURRENT_METER).stream()
        .flatMap(f -> f.accuracy().stream())
        .filter(a -> a.fullScale().map(full -> full >= nominal).orElse(true))
        .mapToDouble(a -> standardA(a, nominal))
        .filter(u -> u > 0)
        .min();
  }

  private static double standardA(AccuracyStatement a, double nominal) {
    double limit =
        a.ofReading() * nominal + a.ofFullScale() * a.fullScale().orElse(nominal) + a.absolute();
    return limit / a.coverageFactor().orElse(Math.sqrt(3));
  }
}
