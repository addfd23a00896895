// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.uncertainty;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;

/** Makes results from estimates, bounds and reasons, all in one way. */
public final class ResultBuilder {
  private ResultBuilder() {}

  /**
   * What a result is of and how it was computed.
   *
   * @param quantity what is computed
   * @param range the range; empty for what is unit-wide
   * @param at the conditions
   * @param ppmBase what ppm are counted of; empty where the unit has none
   * @param method how, with the section of methods.md
   * @param coverage probability of intervals
   */
  public record Subject(
      ResultQuantity quantity,
      Optional<String> range,
      ResultConditions at,
      Optional<String> ppmBase,
      String method,
      double coverage) {}

  /**
   * A result with a value.
   *
   * @param subject what it is of
   * @param estimate the value in the unit of the quantity
   * @param n how many data it rests on
   * @param notes what a reader must know
   * @return the result
   */
  public static Result value(Subject subject, Estimate estimate, int n, List<String> notes) {
    if (!Double.isFinite(estimate.standardUncertainty())) {
      return missing(subject, "its uncertainty is beyond any number", n);
    }
    if (estimate.isDrawn()) {
      return drawn(subject, estimate.value(), n);
    }
    Budget budget = Budget.of(estimate);
    List<String> all = new ArrayList<>(notes);
    if (budget.shapedByOneRectangle()) {
      all.add(Budget.SHAPED_BY_RECTANGLE);
    }
    all.addAll(budget.notes());
    if (!budget.sizesKnown()) {
      return result(
          subject,
          new ComputationOutcome.Value(estimate.value(), Optional.empty(), n),
          List.of(),
          all);
    }
    Optional<ComputationOutcome.Uncertainty> uncertainty =
        estimate.hasUncertainty()
            ? Optional.of(budget.uncertainty(subject.coverage()))
            : Optional.empty();
    if (uncertainty.isEmpty()) {
      all.add("uncertainty not evaluated: none is known for the readings");
    }
    return result(
        subject,
        new ComputationOutcome.Value(estimate.value(), uncertainty, n),
        budget.components(),
        all);
  }

  /**
   * A value of a trial: nothing else is asked of it.
   *
   * @param subject what it is of
   * @param value the value in the unit of the quantity
   * @param n how many data it rests on
   * @return the result
   */
  public static Result drawn(Subject subject, double value, int n) {
    return result(
        subject, new ComputationOutcome.Value(value, Optional.empty(), n), List.of(), List.of());
  }

  /**
   * A result that is a bound.
   *
   * @param subject what it is of
   * @param bound the bound in the unit of the quantity
   * @param notes what a reader must know
   * @return the result
   */
  public static Result bound(Subject subject, ComputationOutcome.Bound bound, List<String> notes) {
    return result(subject, bound, List.of(), notes);
  }

  /**
   * A result that could not be computed.
   *
   * @param subject what it is of
   * @param reason what is missing
   * @param n how many data there were
   * @return the result
   */
  public static Result missing(Subject subject, String reason, int n) {
    return result(subject, new ComputationOutcome.Missing(reason, n), List.of(), List.of());
  }

  /**
   * A result with an outcome of any kind.
   *
   * @param subject what it is of
   * @param outcome the outcome
   * @param budget its budget; may be empty
   * @param notes what a reader must know
   * @return the result
   */
  public static Result result(
      Subject subject,
      ComputationOutcome outcome,
      List<BudgetComponent> budget,
      List<String> notes) {
    return new Result(
        subject.quantity(),
        subject.range(),
        subject.at(),
        outcome,
        Optional.empty(),
        budget,
        subject.ppmBase(),
        subject.method(),
        notes);
  }
}
