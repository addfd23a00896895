// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;

/**
 * A computed quantity with its uncertainty, limit and conformity.
 *
 * <p>Immutable value type, thread-safe.
 *
 * @param quantity what was computed
 * @param range the range of the unit; empty for what is unit-wide
 * @param at the conditions it is stated at
 * @param outcome value, bound, or what is missing; in the unit of the quantity
 * @param judgement the limit and the conformity with it; empty without a limit
 * @param budget components of the uncertainty; empty for bounds and missing results
 * @param ppmBase the base of ppm, for example {@code I_ref}; empty where the unit has none
 * @param method how it was computed, with the section of methods.md
 * @param notes notes for the reader
 * @param model the equation and the estimates of the budget; empty where none is stated
 */
public record Result(
    ResultQuantity quantity,
    Optional<String> range,
    ResultConditions at,
    ComputationOutcome outcome,
    Optional<Judgement> judgement,
    List<BudgetComponent> budget,
    Optional<String> ppmBase,
    String method,
    List<String> notes,
    Optional<MeasurementModel> model) {

  /** Copies the lists. */
  public Result {
    budget = List.copyOf(budget);
    notes = List.copyOf(notes);
  }

  /**
   * A result whose model is not stated.
   *
   * @param quantity what was computed
   * @param range the range of the unit; empty for what is unit-wide
   * @param at the conditions it is stated at
   * @param outcome value, bound, or what is missing; in the unit of the quantity
   * @param judgement the limit and the conformity with it; empty without a limit
   * @param budget components of the uncertainty; empty for bounds and missing results
   * @param ppmBase the base of ppm; empty where the unit has none
   * @param method how it was computed
   * @param notes notes for the reader
   */
  public Result(
      ResultQuantity quantity,
      Optional<String> range,
      ResultConditions at,
      ComputationOutcome outcome,
      Optional<Judgement> judgement,
      List<BudgetComponent> budget,
      Optional<String> ppmBase,
      String method,
      List<String> notes) {
    this(quantity, range, at, outcome, judgement, budget, ppmBase, method, notes, Optional.empty());
  }

  /**
   * The same result, judged.
   *
   * @param judged the judgement
   * @return a result that carries it
   */
  public Result with(Judgement judged) {
    return new Result(
        quantity, range, at, outcome, Optional.of(judged), budget, ppmBase, method, notes, model);
  }

  /**
   * The same result with one more note.
   *
   * @param note a sentence
   * @return a result that carries it
   */
  public Result noting(String note) {
    List<String> more = new ArrayList<>(notes);
    more.add(note);
    return new Result(
        quantity, range, at, outcome, judgement, budget, ppmBase, method, more, model);
  }

  /**
   * The same result with its model equation and estimates.
   *
   * @param stated the model
   * @return a result that carries it
   */
  public Result by(MeasurementModel stated) {
    return new Result(
        quantity,
        range,
        at,
        outcome,
        judgement,
        budget,
        ppmBase,
        method,
        notes,
        Optional.of(stated));
  }

  /**
   * The same result without its budget and model, as it is compared with others.
   *
   * @return a result that takes less memory
   */
  public Result withoutBudget() {
    return new Result(quantity, range, at, outcome, judgement, List.of(), ppmBase, method, notes);
  }

  /**
   * The overall conformity of results: one fail is an overall fail; without a fail, one result not
   * evaluated leaves the whole open.
   *
   * @param results of one unit; those without a limit do not count
   * @return the outcome; empty if none has a limit
   */
  public static Optional<Conformity> together(Collection<Result> results) {
    Optional<Conformity> heaviest = Optional.empty();
    for (Result each : results) {
      if (each.judgement().isPresent()) {
        Conformity one = each.judgement().get().conformity();
        if (heaviest.isEmpty() || one.weight() >= heaviest.get().weight()) {
          heaviest = Optional.of(one);
        }
      }
    }
    return heaviest;
  }
}
