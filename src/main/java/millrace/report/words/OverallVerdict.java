// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import java.util.List;
import java.util.Locale;
import millrace.assessment.Assessment;
import millrace.evidence.Conformity;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;

/**
 * Summary of all results in words; the worst conformity decides for the unit.
 *
 * @param word the verdict in one or two words
 * @param sentence number of met and of unmet limits
 */
public record OverallVerdict(String word, String sentence) {
  private static final String NOT_JUDGED = "Not judged";

  /**
   * Summarises the results.
   *
   * @param results all results of a run
   * @return the summary
   */
  public static OverallVerdict of(List<Result> results) {
    List<Conformity> all =
        results.stream().flatMap(r -> r.judgement().stream()).map(j -> j.conformity()).toList();
    return all.isEmpty()
        ? new OverallVerdict(
            NOT_JUDGED, results.size() + " results; no limit applies to any of them.")
        : ofLimits(all);
  }

  /**
   * Summarises a run: its results, and the limits of the datasheet that its sequence leaves out.
   *
   * @param assessment of the run
   * @return the summary
   */
  public static OverallVerdict of(Assessment assessment) {
    OverallVerdict judged = of(assessment.results());
    List<ResultQuantity> leftOut = assessment.leftOut();
    if (leftOut.isEmpty()) {
      return judged;
    }
    String names = String.join(", ", leftOut.stream().map(ResultQuantity::inWords).toList());
    return new OverallVerdict(
        judged.word, judged.sentence + " Left out by the sequence: the limits on " + names + ".");
  }

  /**
   * Summarises conformities.
   *
   * @param all conformity with each limit; may be empty
   * @return the summary
   */
  public static OverallVerdict ofLimits(List<Conformity> all) {
    if (all.isEmpty()) {
      return new OverallVerdict(NOT_JUDGED, "No limit applies.");
    }
    Conformity worst = worst(all);
    return new OverallVerdict(capital(worst.text()), sentence(all, worst));
  }

  /**
   * The word alone, for a list.
   *
   * @param limits conformity with each limit
   * @return a word such as {@code fail}
   */
  public static String word(List<Conformity> limits) {
    return limits.isEmpty() ? NOT_JUDGED.toLowerCase(Locale.ROOT) : worst(limits).text();
  }

  /**
   * Word and sentence in one line.
   *
   * @return a line such as {@code Fail. 18 of 20 limits are met; fail: 2.}
   */
  public String inOneLine() {
    return word + ". " + sentence;
  }

  /** The worst conformity: a fail before an undecided limit, that before a pass. */
  private static Conformity worst(List<Conformity> all) {
    for (Conformity each : order()) {
      if (all.contains(each)) {
        return each;
      }
    }
    throw new IllegalArgumentException("no conformity to choose from");
  }

  /** The order of conformities, the worst first. */
  public static List<Conformity> order() {
    return List.of(
        Conformity.FAIL,
        Conformity.CONDITIONAL_FAIL,
        Conformity.NOT_EVALUATED,
        Conformity.CONDITIONAL_PASS,
        Conformity.PASS);
  }

  private static String sentence(List<Conformity> all, Conformity worst) {
    long met = all.stream().filter(c -> c == Conformity.PASS).count();
    if (worst == Conformity.PASS) {
      return all.size() == 1 ? "The one limit is met." : "All " + met + " limits are met.";
    }
    StringBuilder text = new StringBuilder(met + " of " + all.size() + " limits are met");
    for (Conformity each : order()) {
      long n = all.stream().filter(c -> c == each).count();
      if (n > 0 && each != Conformity.PASS) {
        text.append("; ").append(each.text()).append(": ").append(n);
      }
    }
    return text.append('.').toString();
  }

  private static String capital(String text) {
    return Character.toUpperCase(text.charAt(0)) + text.substring(1);
  }
}
