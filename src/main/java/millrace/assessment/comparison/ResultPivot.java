// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import millrace.analysis.batch.BatchMeanAndSpread;
import millrace.assessment.comparison.ResultsByGroup.Row;
import tech.tablesaw.api.DoubleColumn;
import tech.tablesaw.api.IntColumn;
import tech.tablesaw.api.LongColumn;
import tech.tablesaw.api.Table;
import tech.tablesaw.joining.JoinType;
import tech.tablesaw.table.TableSlice;

/**
 * Joins results with the groups of their runs into a pivot table: one row per quantity, one column
 * per group. It loads the table library, which takes half a second, only on demand.
 */
public final class ResultPivot {
  private static final String RUN = "run";
  private static final String WHAT = "what";
  private static final String VALUE = "value";
  private static final String GROUP = "group";

  private static final Pattern DIGITS = Pattern.compile("\\d+");
  private static final int LONGEST_NUMBER = 12;

  /** Slot 9 before slot 10. */
  private static final Comparator<List<String>> IN_ORDER =
      Comparator.comparing(
          group ->
              DIGITS
                  .matcher(String.join("\0", group))
                  .replaceAll(
                      m ->
                          "0".repeat(Math.max(0, LONGEST_NUMBER - m.group().length()))
                              + m.group()));

  private ResultPivot() {}

  /**
   * Makes the pivot table.
   *
   * @param comparison the comparison
   * @param by one factor, or several factors that form groups together
   * @return the groups side by side
   */
  public static ResultsByGroup of(Comparison comparison, List<ComparisonFactor> by) {
    List<BatchDistribution> limited = BatchDistributions.limitedIfAny(comparison.distributions());
    ScatterByFactor scatter = new ScatterByFactor(comparison, by);
    List<List<String>> groups =
        comparison.runs().stream().map(r -> group(r, by)).distinct().sorted(IN_ORDER).toList();
    Table runs = Table.create(LongColumn.create(RUN), IntColumn.create(GROUP));
    for (ComparedRun run : comparison.runs()) {
      runs.longColumn(RUN).append(run.run().id());
      runs.intColumn(GROUP).append(groups.indexOf(group(run, by)));
    }
    Map<Place, BatchMeanAndSpread> cells =
        cells(values(limited).joinOn(RUN).type(JoinType.INNER).with(runs).join());
    List<Row> rows =
        IntStream.range(0, limited.size())
            .mapToObj(
                what ->
                    new Row(
                        limited.get(what).what(),
                        row(what, groups.size(), cells),
                        scatter.of(limited.get(what).counting())))
            .toList();
    return new ResultsByGroup(by, groups, rows, scatter.notes());
  }

  /** The place of a cell. */
  private record Place(int what, int group) {}

  private static List<String> group(ComparedRun run, List<ComparisonFactor> by) {
    return by.stream().map(run::group).toList();
  }

  private static Table values(List<BatchDistribution> distributions) {
    Table values =
        Table.create(IntColumn.create(WHAT), LongColumn.create(RUN), DoubleColumn.create(VALUE));
    for (int what = 0; what < distributions.size(); what++) {
      for (BatchDistribution.Entry entry : distributions.get(what).counting()) {
        values.intColumn(WHAT).append(what);
        values.longColumn(RUN).append(entry.run().run().id());
        values.doubleColumn(VALUE).append(entry.value().orElseThrow());
      }
    }
    return values;
  }

  private static Map<Place, BatchMeanAndSpread> cells(Table joined) {
    Map<Place, BatchMeanAndSpread> cells = new HashMap<>();
    for (TableSlice slice : joined.splitOn(WHAT, GROUP)) {
      Table cell = slice.asTable();
      cells.put(
          new Place(cell.intColumn(WHAT).getInt(0), cell.intColumn(GROUP).getInt(0)),
          BatchMeanAndSpread.of(cell.doubleColumn(VALUE).asDoubleArray()));
    }
    return cells;
  }

  private static List<Optional<BatchMeanAndSpread>> row(
      int what, int groups, Map<Place, BatchMeanAndSpread> cells) {
    return IntStream.range(0, groups)
        .mapToObj(group -> Optional.ofNullable(cells.get(new Place(what, group))))
        .toList();
  }
}
