// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.bench.BenchFile;
import millrace.bench.check.Finding;
import millrace.bench.check.InputCheck;
import millrace.bench.role.RoleName;
import millrace.calibration.Accuracy;
import millrace.datasheet.Datasheet;

/**
 * How well the current must be known in each range, for the check of the voltmeter's input
 * (methods.md 1.3).
 *
 * @param bench the bench file
 * @param sheet what the unit promises
 */
public record InputWishes(BenchFile bench, Datasheet sheet) {

  /** One finding per range; none where no voltmeter sits upstream. */
  public List<Finding> of(OptionalDouble wantedRatio) {
    return sheet.ranges().values().stream()
        .flatMap(range -> asked(range, wantedRatio).stream())
        .flatMap(asked -> InputCheck.of(bench, asked).stream())
        .toList();
  }

  private Optional<InputCheck.Asked> asked(Datasheet.Range range, OptionalDouble wantedRatio) {
    double nominal = Math.abs(range.nominalA());
    OptionalDouble wanted =
        wantedRatio.isPresent()
            ? OptionalDouble.of(wantedRatio.getAsDouble() * nominal)
            : statedA(nominal);
    double most = sheet.complianceVoltageV(range.name()).or(sheet::openCircuitVoltageV).orElse(0.0);
    return wanted.isPresent()
        ? Optional.of(new InputCheck.Asked(range.name(), most, wanted.getAsDouble()))
        : Optional.empty();
  }

  /** What the current meter itself leaves open, where nobody asks for anything else. */
  private OptionalDouble statedA(double nominal) {
    return bench.facts(RoleName.CURRENT_METER).stream()
        .flatMap(f -> f.accuracy().stream())
        .filter(a -> a.fullScale().map(full -> full >= nominal).orElse(true))
        .mapToDouble(a -> standardA(a, nominal))
        .filter(u -> u > 0)
        .min();
  }

  private static double standardA(Accuracy a, double nominal) {
    double limit =
        a.ofReading() * nominal + a.ofFullScale() * a.fullScale().orElse(nominal) + a.absolute();
    return limit / a.coverageFactor().orElse(Math.sqrt(3));
  }
}
