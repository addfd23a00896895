// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.quantity.NumberText;
import millrace.report.words.EquivalentBudgets;

/**
 * Uncertainty budgets in the form of JCGM 100:2008, annex H.1. Results of one quantity share a
 * table, since their budgets differ only in the numbers.
 */
final class BudgetSection {
  /** Most results side by side in half the width of a page. */
  private static final int MOST = 4;

  private BudgetSection() {}

  static void write(ReportContext sheet) {
    List<Result> results =
        sheet.assessment().results().stream().filter(r -> !r.budget().isEmpty()).toList();
    if (results.isEmpty()) {
      return;
    }
    sheet
        .folded("Uncertainty budgets", "budgets", NumberText.counted(results.size(), "budget"))
        .paragraph(
            "In the form of JCGM 100:2008, annex H.1, results of one quantity side by side, each"
                + " under its number among all results. In each field stands the contribution c u"
                + " of a component with the sign of its sensitivity c; beside the component its"
                + " group, whose members are fully correlated (\u2018point\u2019: each point has"
                + " its own error), distribution (rect.: rectangular), standard uncertainty u and"
                + " degrees of freedom \u03bd, in the field where they are not the same for all; c"
                + " is c u over u. What contributes less than 1 % everywhere stands below, each"
                + " with its contributions (none where they are below 0.1 % of u), added up as"
                + " independent. Where another quantity follows from the first, its components are"
                + " the same and |c| is multiplied by the factor that stands there. Above stand"
                + " the model equation and the estimates of its input quantities, corrections"
                + " applied; errors, of which the rows are, are estimated as 0.");
    sheet.out().line().open("div", "class", "columns");
    EquivalentBudgets kin = new EquivalentBudgets(results);
    chunks(kin.leaders()).forEach(chunk -> new UncertaintyBudgetTable(sheet, chunk, kin).write());
    sheet.out().close();
    sheet.endFolded();
  }

  /**
   * Results side by side: all of one quantity and range, or all of a quantity with one result per
   * range.
   */
  private static List<List<Result>> chunks(List<Result> leaders) {
    Map<ResultQuantity, Map<Optional<String>, List<Result>>> all = new LinkedHashMap<>();
    for (Result r : leaders) {
      all.computeIfAbsent(r.quantity(), q -> new LinkedHashMap<>())
          .computeIfAbsent(r.range(), n -> new ArrayList<>())
          .add(r);
    }
    List<List<Result>> chunks = new ArrayList<>();
    for (Map<Optional<String>, List<Result>> ranges : all.values()) {
      boolean single = ranges.values().stream().allMatch(l -> l.size() == 1);
      if (single) {
        cut(ranges.values().stream().flatMap(List::stream).toList(), chunks);
      } else {
        ranges.values().forEach(l -> cut(l, chunks));
      }
    }
    return chunks;
  }

  /** Splits a list into the fewest parts of about equal length. */
  private static void cut(List<Result> list, List<List<Result>> chunks) {
    int parts = (list.size() + MOST - 1) / MOST;
    for (int i = 0; i < parts; i++) {
      chunks.add(list.subList(i * list.size() / parts, (i + 1) * list.size() / parts));
    }
  }
}
