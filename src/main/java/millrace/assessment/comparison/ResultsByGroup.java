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
 * @param notes which factors explain no scatter here, and why, sentences without their full stops
 */
public record ResultsByGroup(
    List<ComparisonFactor> by, List<List<String>> groups, List<Row> rows, List<String> notes) {
  /** Copies the lists. */
  public ResultsByGroup {
    notes = List.copyOf(notes);
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
   * @param sources where its scatter comes from, the largest part first; empty if no factor can be
   *     told from unit to unit
   */
  public record Row(
      Measurand what, List<Optional<BatchMeanAndSpread>> cells, List<ScatterSource> sources) {
    /** Copies the lists. */
    public Row {
      sources = List.copyOf(sources);
      cells = List.copyOf(cells);
    }
  }
}
