// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.BoxJudgementBasis;
import millrace.evidence.ConditionBox;
import millrace.evidence.Judgement;
import millrace.quantity.ClosedInterval;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;

/** Conditions of a judged limit, the basis of the judgement, and its certainty, in words. */
public final class BoxJudgementWords {
  private BoxJudgementWords() {}

  /** The conditions of a limit; empty text if it names none. */
  public static String box(ConditionBox box) {
    List<String> words = new ArrayList<>();
    span(words, "", box.temperatureDegC(), Dimension.TEMPERATURE);
    span(words, "", box.terminalVoltageV(), Dimension.VOLTAGE);
    span(words, "supply ", box.supplyV(), Dimension.VOLTAGE);
    span(words, "on for ", box.timeOnS(), Dimension.TIME);
    return String.join(", ", words);
  }

  private static void span(
      List<String> words, String what, Optional<ClosedInterval> span, Dimension dimension) {
    span.ifPresent(
        s -> words.add(what + print(s.lower(), dimension) + " to " + print(s.upper(), dimension)));
  }

  private static String print(double v, Dimension dimension) {
    return v == 0 && dimension != Dimension.TEMPERATURE
        ? "0 " + dimension.baseUnit()
        : QuantityText.print(v, dimension);
  }

  /** The basis of the result under the judged condition. */
  public static String basis(BoxJudgementBasis covers) {
    return covers.basis().text() + covers.of().map(of -> ": " + of).orElse("");
  }

  /** Probability, test uncertainty ratio and risks; empty text if none is known. */
  public static String certainty(Judgement j) {
    List<String> words = new ArrayList<>();
    percent(words, "conforms with ", j.probability());
    if (j.testUncertaintyRatio().isPresent()) {
      words.add("TUR " + NumberText.significant(j.testUncertaintyRatio().getAsDouble(), 2));
    }
    percent(words, "wrong with ", j.risk().specific());
    percent(words, "in this batch a bad unit passes with ", j.risk().globalConsumer());
    percent(words, "a good one fails with ", j.risk().globalProducer());
    return String.join("; ", words);
  }

  private static void percent(List<String> words, String what, OptionalDouble probability) {
    if (probability.isPresent()) {
      words.add(what + percent(probability.getAsDouble()));
    }
  }

  /**
   * A probability in percent, with two digits of its distance from 100 %, so that 99.99 % is not
   * shown as 100 %.
   */
  public static String percent(double p) {
    if (p < 1e-6) {
      return "less than 0.0001 %";
    }
    if (p > 1 - 1e-6) {
      return "more than 99.9999 %";
    }
    double left = Math.min(p, 1 - p);
    int decimals = (int) Math.max(0, 1 - Math.floor(Math.log10(100 * left)));
    return NumberText.fixed(100 * p, decimals) + " %";
  }
}
