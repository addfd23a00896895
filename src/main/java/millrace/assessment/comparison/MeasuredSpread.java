// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import static millrace.analysis.uncertainty.ErrorSource.POINT;
import static millrace.analysis.uncertainty.ErrorSource.ZERO;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ErrorDistribution;
import millrace.evidence.Result;
import millrace.logbook.Logbook;
import millrace.logbook.RunEvaluation;
import millrace.logbook.RunReader;

/**
 * One quantity of a batch, and what the measurement itself adds to the scatter of its values: of
 * the budget the noise of points and zeros, which is another for each unit. What a bench does wrong
 * with every unit alike is in no scatter.
 *
 * @param distribution the values of the units
 * @param measurementVariance the mean variance of that noise, in the square of the unit of the
 *     quantity; 0 where no budget tells it
 */
public record MeasuredSpread(BatchDistribution distribution, double measurementVariance) {
  /** So many units tell a mean variance. */
  private static final int ENOUGH = 200;

  /**
   * Reads the budgets of the units that count.
   *
   * @param book the logbook of the runs
   * @param distributions the quantities of a comparison
   * @return one for each, in their order
   */
  public static List<MeasuredSpread> of(Logbook book, List<BatchDistribution> distributions) {
    Budgets budgets = new Budgets(book);
    List<MeasuredSpread> all = new ArrayList<>();
    for (BatchDistribution d : distributions) {
      double variance =
          d.counting().stream().limit(ENOUGH).mapToDouble(budgets::noise).average().orElse(0);
      all.add(new MeasuredSpread(d, variance));
    }
    return all;
  }

  /** The results of the last judging of runs with their budgets, each read once. */
  private static final class Budgets {
    private final Logbook book;
    private final Map<Long, List<Result>> known = new HashMap<>();

    Budgets(Logbook book) {
      this.book = book;
    }

    double noise(BatchDistribution.Entry entry) {
      Result wanted = entry.result();
      return known.computeIfAbsent(entry.run().id(), this::results).stream()
          .filter(r -> r.quantity() == wanted.quantity())
          .filter(r -> r.range().equals(wanted.range()) && r.at().equals(wanted.at()))
          .findFirst()
          .map(r -> r.budget().stream().mapToDouble(Budgets::noise).sum())
          .orElse(0.0);
    }

    private static double noise(BudgetComponent c) {
      boolean own = c.group().equals(POINT) || c.group().equals(ZERO);
      return own && c.distribution() == ErrorDistribution.NORMAL
          ? c.contribution() * c.contribution()
          : 0;
    }

    private List<Result> results(long run) {
      RunReader reader = book.reader(run);
      List<RunEvaluation> judgings = reader.evaluations();
      return judgings.isEmpty() ? List.of() : reader.results(judgings.get(judgings.size() - 1));
    }
  }
}
