// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.evidence.Conformity;
import millrace.evidence.Result;
import millrace.logbook.RunSummary;

/**
 * One run that is compared.
 *
 * @param run the run
 * @param results as judged last; without budgets
 * @param conformity overall conformity; empty if none has a limit
 * @param passed true if the run is complete, no point is flagged or missing, and every limit is met
 * @param first true if it is the unit's first test that ended, which is the one that counts
 * @param bin the bin of a unit that passed
 * @param groups its group for each factor, factors in a fixed order; an empty name if nothing was
 *     stated
 */
public record ComparedRun(
    RunSummary run,
    List<Result> results,
    Optional<Conformity> conformity,
    boolean passed,
    boolean first,
    Optional<String> bin,
    Map<ComparisonFactor, String> groups) {
  /** Copies the collections. */
  public ComparedRun {
    results = List.copyOf(results);
    groups = Collections.unmodifiableMap(new LinkedHashMap<>(groups));
  }

  /**
   * The number of the run.
   *
   * @return in its logbook
   */
  public long id() {
    return run.id();
  }

  /**
   * The serial number.
   *
   * @return of the unit
   */
  public String unit() {
    return run.start().unit();
  }

  /**
   * Its group.
   *
   * @param factor the factor
   * @return its name; empty text if nothing was stated
   */
  public String group(ComparisonFactor factor) {
    return groups.getOrDefault(factor, "");
  }

  /**
   * Why it was tested again.
   *
   * @return the recorded cause; empty for a first test
   */
  public Optional<String> cause() {
    return run.start().facts().retestCause();
  }

  /**
   * Tells whether the run fails its limits.
   *
   * @return true for a fail, a conditional fail, and a conditional pass that counts as a fail
   */
  public boolean failed() {
    return conformity
        .filter(c -> !passed && c != Conformity.PASS && c != Conformity.NOT_EVALUATED)
        .isPresent();
  }

  /**
   * Tells whether it neither passed nor failed, though it has limits: one was not evaluated, or a
   * point is missing or flagged.
   *
   * @return true if it is open
   */
  public boolean open() {
    return conformity.isPresent() && !passed && !failed();
  }
}
