// SPDX-License-Identifier: Apache-2.0
package millrace.bench.check;

import java.util.Comparator;
import java.util.Optional;
import millrace.bench.BenchFile;
import millrace.bench.BenchFile.VoltmeterPlace;
import millrace.bench.role.RoleName;
import millrace.calibration.AccuracyStatement;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/**
 * Whether a voltmeter upstream of the current meter leaves the current known well enough: refused
 * where V u(R_in)/R_in^2 exceeds a tenth of the uncertainty asked for (methods.md 1.3).
 */
public final class VoltmeterInputCheck {
  private static final double SHARE = 0.1;

  private VoltmeterInputCheck() {}

  /**
   * What is asked for.
   *
   * @param range the range, for messages
   * @param mostV the highest voltage at the terminals, V, 0 or more
   * @param uncertaintyA the standard uncertainty wanted of the current, A, above 0
   */
  public record Asked(String range, double mostV, double uncertaintyA) {}

  /**
   * Judges one range.
   *
   * @param bench the bench file
   * @param asked what is asked for
   * @return the finding; empty if no voltmeter sits upstream
   */
  public static Optional<BenchCheckFinding> of(BenchFile bench, Asked asked) {
    if (!bench.wiring().voltmeter().equals(Optional.of(VoltmeterPlace.UPSTREAM))) {
      return Optional.empty();
    }
    String what = "voltmeter input, range " + asked.range();
    return Optional.of(
        bench
            .facts(RoleName.VOLTMETER)
            .flatMap(
                f ->
                    f.accuracy().stream()
                        .filter(a -> a.inputOhm().isPresent())
                        .max(Comparator.comparingDouble(a -> lostA(a, asked))))
            .map(a -> judged(what, a, asked))
            .orElseGet(
                () ->
                    BenchCheckFinding.caution(
                        what,
                        "the bench file states no input resistance, so what the voltmeter takes is"
                            + " not known. Add 'input resistance' to its accuracy.")));
  }

  private static double lostA(AccuracyStatement a, Asked asked) {
    return asked.mostV() * a.inputUncertainty() / a.inputOhm().orElseThrow();
  }

  private static BenchCheckFinding judged(String what, AccuracyStatement a, Asked asked) {
    double lost = lostA(a, asked);
    double most = SHARE * asked.uncertaintyA();
    String text =
        "at %s its input of %s, known within %s, leaves %s of the current unknown"
            .formatted(
                QuantityText.print(asked.mostV(), Dimension.VOLTAGE, 3),
                QuantityText.print(a.inputOhm().orElseThrow(), Dimension.RESISTANCE, 3),
                QuantityText.print(a.inputUncertainty(), Dimension.RATIO, 2),
                QuantityText.print(lost, Dimension.CURRENT, 2));
    String bound =
        "%s, a tenth of the %s asked for"
            .formatted(
                QuantityText.print(most, Dimension.CURRENT, 2),
                QuantityText.print(asked.uncertaintyA(), Dimension.CURRENT, 2));
    return lost <= most
        ? BenchCheckFinding.good(what, text + "; allowed " + bound)
        : BenchCheckFinding.bad(
            what,
            "%s; expected at most %s. Buffer the voltmeter, disconnect it, or take it out of the bench file so that V is computed from I and R."
                .formatted(text, bound));
  }
}
