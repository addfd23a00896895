// SPDX-License-Identifier: Apache-2.0
package millrace.report.table;

import java.util.ArrayList;
import java.util.List;
import millrace.assessment.Assessment;
import millrace.assessment.RunCauseDiagnosis;
import millrace.evidence.Result;
import millrace.quantity.NumberText;
import millrace.report.words.MissingMeasurements;
import millrace.report.words.RepairHint;
import millrace.report.words.ResultWords;
import millrace.report.words.RunVerdictText;

/**
 * Run on one screen of a terminal: the verdict, unmet limits with the reason, undecided limits with
 * the missing measurement, the results nearest to a limit, and the worst case of every range.
 *
 * <p>Immutable, thread-safe.
 */
public final class RunOverview {
  private static final int MOST_UNMET = 5;
  private static final int MOST_WANTED = 4;
  private static final int NEAREST = 3;
  private static final int MOST_NOTES = 3;

  private final Assessment assessment;
  private final RunVerdictText verdict;

  /**
   * The overview of an assessment.
   *
   * @param assessment of a run
   */
  public RunOverview(Assessment assessment) {
    this.assessment = assessment;
    this.verdict = new RunVerdictText(assessment);
  }

  /**
   * The answer.
   *
   * @return the answer, such as {@code SIMULATED unit FX3-00042, run 1: Pass. All 20 limits are
   *     met.}
   */
  public String verdict() {
    return verdict.inOneLine();
  }

  /**
   * The reasons and next steps: unmet limits, undecided limits, and the results nearest to a limit.
   *
   * @return paragraphs; one with leading spaces belongs to the heading before it
   */
  public List<String> reasons() {
    List<String> lines = new ArrayList<>();
    unmet(lines);
    wanted(lines);
    nearest(lines);
    return lines;
  }

  private void unmet(List<String> lines) {
    List<Result> unmet = verdict.unmet();
    if (unmet.isEmpty()) {
      return;
    }
    lines.add("Not met:");
    unmet.stream().limit(MOST_UNMET).forEach(r -> lines.add("  " + ResultWords.inFull(r)));
    more(lines, unmet.size() - MOST_UNMET);
    RunCauseDiagnosis.of(assessment)
        .flatMap(RepairHint::of)
        .ifPresent(hint -> lines.add("Look first at: " + hint + "."));
  }

  private static void more(List<String> lines, int left) {
    if (left > 0) {
      lines.add("  and " + left + " more");
    }
  }

  /** Adds the missing measurements, each with the limits that wait for it. */
  private void wanted(List<String> lines) {
    List<String> orders = MissingMeasurements.of(verdict.judged());
    if (orders.isEmpty()) {
      return;
    }
    lines.add("Not evaluated:");
    orders.stream().limit(MOST_WANTED).forEach(order -> lines.add("  " + order));
    more(lines, orders.size() - MOST_WANTED);
  }

  private void nearest(List<String> lines) {
    List<Result> met = verdict.nearest();
    if (met.isEmpty()) {
      return;
    }
    lines.add("Met, nearest to its limit:");
    met.stream().limit(NEAREST).forEach(r -> lines.add("  " + ResultWords.inFull(r)));
  }

  /**
   * The worst case of every range.
   *
   * @return a table, each line with its line feed; empty text if nothing was computed
   */
  public String table() {
    return WorstCases.table(assessment.results());
  }

  /**
   * Reservations about the verdict.
   *
   * @return sentences
   */
  public List<String> notes() {
    List<String> notes = new ArrayList<>();
    List<String> all = assessment.notes();
    all.stream().limit(MOST_NOTES).forEach(n -> notes.add("Note: " + n + "."));
    if (all.size() > MOST_NOTES) {
      notes.add(NumberText.counted(all.size() - MOST_NOTES, "more note") + " in the report.");
    }
    return notes;
  }
}
