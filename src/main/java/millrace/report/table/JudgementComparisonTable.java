// SPDX-License-Identifier: Apache-2.0
package millrace.report.table;

import java.time.temporal.ChronoUnit;
import java.util.Optional;
import millrace.assessment.Assessment;
import millrace.assessment.JudgementComparison;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Conformity;
import millrace.evidence.Judgement;
import millrace.evidence.Result;
import millrace.quantity.NumberText;
import millrace.report.words.ResultConditionWords;
import millrace.report.words.ResultFigures;
import millrace.report.words.ResultWords;

/** Old and new results of the same readings as a table for the terminal. Stateless, thread-safe. */
public final class JudgementComparisonTable {
  private static final int WIDEST = 40;
  private static final String NONE = "-";

  private JudgementComparisonTable() {}

  /**
   * The changes, one line each.
   *
   * @param beside both judgements
   * @return lines, each with its line feed
   */
  public static String print(JudgementComparison beside) {
    TextColumns table =
        new TextColumns(WIDEST, "quantity", "range", "at", "before", "now", "conformity");
    beside.pairs().forEach(p -> row(table, p));
    return "Judged before on %s, %s. What differs:\n\n%s\n%s %s.\n"
        .formatted(
            beside.earlier().madeAt().truncatedTo(ChronoUnit.SECONDS),
            beside.earlier().reason(),
            table.text(),
            beside.alike(),
            beside.alike() == 1
                ? "result is the same to a hundredth of its U"
                : "results are the same to a hundredth of their U");
  }

  private static void row(TextColumns table, JudgementComparison.Pair pair) {
    Result either = pair.either();
    table.row(
        either.quantity().inWords(),
        either.range().orElse(""),
        ResultConditionWords.of(either.at()),
        figures(pair.before()),
        figures(pair.now()),
        conformities(pair));
  }

  /** A result with its uncertainty, or a note that there is none. */
  public static String figures(Optional<Result> result) {
    return result.map(r -> ResultFigures.stated(r).orElse("not computed")).orElse(NONE);
  }

  /** Both conformities; one word if they agree. */
  public static String conformities(JudgementComparison.Pair pair) {
    String before = conformity(pair.before());
    String now = conformity(pair.now());
    return before.equals(now) ? now : before + " -> " + now;
  }

  private static String conformity(Optional<Result> result) {
    return result.flatMap(Result::judgement).map(j -> words(j)).orElse(NONE);
  }

  private static String words(Judgement judgement) {
    return judgement.conformity().text();
  }

  /** Table of many runs, one line each. Single-threaded. */
  public static final class Lines {
    private final TextColumns table =
        new TextColumns(WIDEST, "run", "unit", "before", "now", "changed", "largest change");

    /**
     * Adds a run.
     *
     * @param assessment the present findings
     * @param beside the previous findings; empty if nothing differs
     */
    public void add(Assessment assessment, Optional<JudgementComparison> beside) {
      Optional<Conformity> now = Result.together(assessment.results());
      table.row(
          Long.toString(assessment.run().id()),
          assessment.run().start().unit(),
          beside.map(JudgementComparison::before).orElse(now).map(Conformity::text).orElse(NONE),
          now.map(Conformity::text).orElse(NONE),
          Integer.toString(beside.map(b -> b.pairs().size()).orElse(0)),
          beside.map(Lines::largest).orElse(NONE));
    }

    /**
     * The table.
     *
     * @return lines, each with its line feed
     */
    public String text() {
      return table.empty() ? "no run was judged\n" : table.text();
    }

    /** The largest change of a value, relative to its previous uncertainty. */
    private static String largest(JudgementComparison beside) {
      String words = NONE;
      double most = 0;
      for (JudgementComparison.Pair pair : beside.pairs()) {
        double share = share(pair);
        if (share > most) {
          most = share;
          words =
              "%s, %s U"
                  .formatted(ResultWords.name(pair.either()), NumberText.significant(share, 2));
        }
      }
      return words;
    }

    private static double share(JudgementComparison.Pair pair) {
      if (pair.before().isEmpty() || pair.now().isEmpty()) {
        return 0;
      }
      double u = ResultFigures.uncertainty(pair.before().get()).map(x -> x.expanded()).orElse(0.0);
      return pair.before().get().outcome() instanceof ComputationOutcome.Value before
              && pair.now().get().outcome() instanceof ComputationOutcome.Value now
              && u > 0
          ? Math.abs(now.value() - before.value()) / u
          : 0;
    }
  }
}
