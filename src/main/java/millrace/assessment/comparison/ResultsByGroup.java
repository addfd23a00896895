// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.List;
import java.util.Optional;
import millrace.analysis.batch.BatchMeanAndSpread;
import millrace.evidence.Measurand;

/**
 * What values come to in each group of runs, group beside group (methods.md 8): of what has a
 * limit, or of everything where nothing has.
 *
 * @param by what the groups have in common, one factor or several together
 * @param groups the names of each group, as many as factors, sorted; an empty name where nobody
 *     said
 * @param rows a quantity each
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
   * @param cells mean and scatter of the values that count, a group each; empty where it has none
   */
  public record Row(Measurand what, List<Optional<BatchMeanAndSpread>> cells) {
    /** Copies the list. */
    public Row {
      cells = List.copyOf(cells);
    }
  }
}
