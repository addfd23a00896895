// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Predicate;
import millrace.analysis.uncertainty.CoverageFactors;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;

/**
 * Change of a result of one unit from one run to another (methods.md 8). Components cancel only
 * where both runs share them, for instance with the same instruments and fixture: u^2 = sum over
 * shared of (c_later - c_earlier)^2 + sum over the others of c^2 (JCGM 100:2008, 5.2.2).
 *
 * @param value later minus earlier, in the unit of the result
 * @param uncertainty of the change; empty where either result has none
 * @param cancelled components that both runs share
 * @param significant true if zero lies outside the interval
 */
public record UnitDrift(
    double value,
    Optional<ComputationOutcome.Uncertainty> uncertainty,
    List<String> cancelled,
    boolean significant) {

  /** Copies the list. */
  public UnitDrift {
    cancelled = List.copyOf(cancelled);
  }

  /**
   * The change between two results.
   *
   * @param earlier a result
   * @param later a result of the same quantity, range and conditions
   * @param shared selects the components that are the same error in both runs; point-wise ones
   *     never are
   * @param coverage probability of the interval
   * @return the change; empty unless both are values
   */
  public static Optional<UnitDrift> between(
      Result earlier, Result later, Predicate<BudgetComponent> shared, double coverage) {
    if (earlier.outcome() instanceof ComputationOutcome.Value a
        && later.outcome() instanceof ComputationOutcome.Value b) {
      double change = b.value() - a.value();
      List<String> cancelled = new ArrayList<>();
      boolean known = a.uncertainty().isPresent() && b.uncertainty().isPresent();
      if (!known) {
        return Optional.of(new UnitDrift(change, Optional.empty(), List.of(), false));
      }
      List<BudgetComponent> left = left(earlier.budget(), later.budget(), shared, cancelled);
      double squares = cancelledRest(earlier.budget(), later.budget(), shared);
      double fourths = 0;
      for (BudgetComponent c : left) {
        double square = c.contribution() * c.contribution();
        squares += square;
        fourths += square * square / c.degreesOfFreedom().orElse(Double.POSITIVE_INFINITY);
      }
      OptionalDouble nu =
          fourths > 0 ? OptionalDouble.of(squares * squares / fourths) : OptionalDouble.empty();
      double u = Math.sqrt(squares);
      double k = CoverageFactors.factor(coverage, nu);
      ComputationOutcome.Uncertainty own =
          new ComputationOutcome.Uncertainty(
              u, k * u, change - k * u, change + k * u, coverage, k, nu);
      return Optional.of(
          new UnitDrift(change, Optional.of(own), cancelled, Math.abs(change) > k * u));
    }
    return Optional.empty();
  }

  /** The components that the budgets do not share. */
  private static List<BudgetComponent> left(
      List<BudgetComponent> earlier,
      List<BudgetComponent> later,
      Predicate<BudgetComponent> shared,
      List<String> cancelled) {
    List<BudgetComponent> left = new ArrayList<>(later);
    for (BudgetComponent a : earlier) {
      Optional<BudgetComponent> same = match(a, later, shared);
      if (same.isPresent()) {
        left.remove(same.get());
        cancelled.add(a.component());
      } else {
        left.add(a);
      }
    }
    return left;
  }

  /** What remains of a shared error whose sensitivity differs between the two results. */
  private static double cancelledRest(
      List<BudgetComponent> earlier,
      List<BudgetComponent> later,
      Predicate<BudgetComponent> shared) {
    double sum = 0;
    for (BudgetComponent a : earlier) {
      Optional<BudgetComponent> same = match(a, later, shared);
      if (same.isPresent()) {
        double apart = signed(same.get()) - signed(a);
        sum += apart * apart;
      }
    }
    return sum;
  }

  private static Optional<BudgetComponent> match(
      BudgetComponent a, List<BudgetComponent> others, Predicate<BudgetComponent> shared) {
    return others.stream().filter(b -> same(a, b) && shared.test(a) && shared.test(b)).findFirst();
  }

  private static boolean same(BudgetComponent a, BudgetComponent b) {
    return a.component().equals(b.component())
        && a.group().equals(b.group())
        && !a.group().equals(ErrorSource.POINT);
  }

  private static double signed(BudgetComponent c) {
    return Math.copySign(c.contribution(), c.sensitivity());
  }
}
