// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import java.util.ArrayList;
import java.util.IdentityHashMap;
import java.util.List;
import millrace.evidence.BudgetComponent;
import millrace.evidence.Result;

/**
 * Results with the same budget except for one factor, such as a conductance and its reciprocal. The
 * first is the leader; the others need no budget of their own. Not thread-safe.
 */
public final class EquivalentBudgets {
  private static final double SAME = 1e-6;

  private final List<Result> leaders = new ArrayList<>();
  private final IdentityHashMap<Result, List<Result>> kin = new IdentityHashMap<>();

  /**
   * Finds the groups of equivalent budgets.
   *
   * @param results results with a budget, in order
   */
  public EquivalentBudgets(List<Result> results) {
    for (Result r : results) {
      leaders.stream()
          .filter(l -> follows(l, r))
          .findFirst()
          .ifPresentOrElse(l -> of(l).add(r), () -> leaders.add(r));
    }
  }

  /**
   * The results that need their own budget.
   *
   * @return leaders in the order of the results
   */
  public List<Result> leaders() {
    return List.copyOf(leaders);
  }

  /**
   * The results that follow from a leader.
   *
   * @param leader one of the leaders
   * @return results in order; may be empty
   */
  public List<Result> of(Result leader) {
    return kin.computeIfAbsent(leader, l -> new ArrayList<>());
  }

  /**
   * The factor between the sensitivities of a leader and of a result that follows from it, by size.
   *
   * @param leader the leader
   * @param kin a result that follows from it
   * @return factor, in units of the result per unit of the leader, above 0
   */
  public static double factor(Result leader, Result kin) {
    BudgetComponent largest = largest(leader);
    BudgetComponent same = kin.budget().get(leader.budget().indexOf(largest));
    return Math.abs(same.sensitivity() / largest.sensitivity());
  }

  private static BudgetComponent largest(Result r) {
    return r.budget().stream()
        .max((a, b) -> Double.compare(a.contribution(), b.contribution()))
        .orElseThrow();
  }

  private static boolean follows(Result leader, Result r) {
    if (!leader.range().equals(r.range())
        || !leader.at().equals(r.at())
        || leader.quantity() == r.quantity()
        || leader.budget().size() != r.budget().size()
        || largest(leader).sensitivity() == 0) {
      return false;
    }
    double factor = factor(leader, r);
    double least = SAME * largest(r).contribution();
    for (int i = 0; i < r.budget().size(); i++) {
      if (!alike(leader.budget().get(i), r.budget().get(i), factor, least)) {
        return false;
      }
    }
    return Double.isFinite(factor);
  }

  /** Whether two components agree: their difference must be far below the largest contribution. */
  private static boolean alike(BudgetComponent a, BudgetComponent b, double factor, double least) {
    return a.component().equals(b.component())
        && a.group().equals(b.group())
        && a.value() == b.value()
        && a.distribution() == b.distribution()
        && Math.abs(a.degreesOfFreedom().orElse(0) - b.degreesOfFreedom().orElse(0))
            <= SAME * a.degreesOfFreedom().orElse(0)
        && Math.abs(Math.abs(b.sensitivity()) - Math.abs(a.sensitivity()) * factor) * b.value()
            <= least;
  }
}
