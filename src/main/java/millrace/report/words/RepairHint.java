// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import java.util.Optional;
import millrace.analysis.causes.Cause;
import millrace.analysis.causes.ErrorCauseDiagnosis;
import millrace.quantity.NumberText;

/** Hint for the repair of a failed unit, in one line. Stateless, thread-safe. */
public final class RepairHint {
  private static final double LEAST_PROBABILITY = 0.5;
  private static final double SURE = 0.99;
  private static final double PERCENT = 100;

  private RepairHint() {}

  /**
   * The likeliest cause in words, with the causes that the measurement cannot separate from it.
   *
   * @param diagnosis diagnosis of the unit's errors
   * @return a hint such as {@code range resistor R2 high by 812 ± 9 ppm, probability 97 %}; empty
   *     if this group of causes is not likelier than all others together
   */
  public static Optional<String> of(ErrorCauseDiagnosis diagnosis) {
    return diagnosis.causes().stream()
        .filter(c -> !c.cause().equals(Cause.NOTHING))
        .max((a, b) -> Double.compare(a.probability(), b.probability()))
        .filter(c -> together(c, diagnosis) >= LEAST_PROBABILITY)
        .map(c -> words(c, diagnosis));
  }

  /** The probability of a cause together with the causes of the same effect. */
  private static double together(Cause likeliest, ErrorCauseDiagnosis diagnosis) {
    double sum =
        diagnosis.causes().stream()
            .filter(c -> likeliest.notSeparableFrom().contains(c.name()))
            .mapToDouble(Cause::probability)
            .sum();
    return Math.min(1, likeliest.probability() + sum);
  }

  private static String words(Cause cause, ErrorCauseDiagnosis diagnosis) {
    String alike =
        cause.notSeparableFrom().isEmpty()
            ? ""
            : "; %s together with what cannot be separated from it: %s"
                .formatted(
                    percent(together(cause, diagnosis)),
                    String.join(", ", cause.notSeparableFrom()));
    return "%s%s, probability %s%s"
        .formatted(
            cause.name(),
            cause.size().map(RepairHint::size).orElse(""),
            percent(cause.probability()),
            alike);
  }

  private static String percent(double probability) {
    return probability > SURE ? "above 99 %" : NumberText.fixed(PERCENT * probability, 0) + " %";
  }

  private static String size(Cause.Size size) {
    boolean relative = size.unit().startsWith("ppm");
    String amount =
        relative
            ? NumberText.significant(Math.abs(size.value()), 3)
                + " ± "
                + NumberText.significant(size.expandedUncertainty(), 2)
                + " "
                + size.unit()
            : ResultFigures.number(size.value(), size.unit())
                + " ± "
                + ResultFigures.size(size.expandedUncertainty(), size.unit());
    return relative ? (size.value() < 0 ? " low by " : " high by ") + amount : " of " + amount;
  }
}
