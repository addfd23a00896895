// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.List;
import java.util.Optional;
import millrace.analysis.batch.BatchMeanAndSpread;
import millrace.evidence.Measurand;

/**
 * Statistics of values per group of runs, side by side (methods.md 8): for quantities with a limit,
 * or for all if none has a limit.
 *
 * @param by the factor, or several factors together
 * @param groups the names of each group, one per factor, sorted; an empty name if nothing was
 *     stated
 * @param rows one quantity each
 */
public record ResultsByGroup(List<ComparisonFactor> by, List<List<String>> groups, List<Row> rows) {
  /** Copies the lists. */
  public ResultsByGroup {
    by = List.copyOf(by);
    groups = List.copyOf(groups);
    rows = List.copyOf(rows);
  }

  /**
   * One quantity.
   *
   * @param what quantity, range and nominal conditions
   * @param cells mean and scatter of the values that count, one per group; empty if the group has
   *     no values
   */
  public record Row(Measurand what, List<Optional<BatchMeanAndSpread>> cells) {
    /** Copies the list. */
    public Row {
      cells = List.copyOf(cells);
    }
  }
}
