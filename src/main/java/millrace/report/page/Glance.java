// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.report.chart.LimitPicture;
import millrace.report.markup.Markup;
import millrace.report.plot.Symbols;
import millrace.report.words.Figures;
import millrace.report.words.Margin;

/**
 * All limits at one glance: a row per range, a column per quantity, in each field the result that
 * stands worst against its limit, as a picture, in figures and in words.
 */
final class Glance {
  /** As many columns as a page takes. */
  private static final int MOST = 5;

  private final Sheet sheet;
  private final List<Result> judged;

  private Glance(Sheet sheet, List<Result> judged) {
    this.sheet = sheet;
    this.judged = judged;
  }

  static void write(Sheet sheet, List<Result> judged) {
    Glance glance = new Glance(sheet, judged);
    Set<ResultQuantity> seen = new LinkedHashSet<>();
    judged.forEach(r -> seen.add(r.quantity()));
    List<ResultQuantity> quantities = new ArrayList<>(seen);
    quantities.sort(Comparator.naturalOrder());
    for (int i = 0; i < quantities.size(); i += MOST) {
      glance.table(quantities.subList(i, Math.min(quantities.size(), i + MOST)));
    }
  }

  private void table(List<ResultQuantity> quantities) {
    List<Table.Column> columns = new ArrayList<>();
    columns.add(Table.Column.words("Range"));
    quantities.forEach(q -> columns.add(Table.Column.words(q.inWords())));
    String caption = "The result that stands worst against its limit, per range and quantity";
    Table table = Table.stacked(sheet.out(), caption, columns.toArray(Table.Column[]::new));
    for (Optional<String> range : ranges()) {
      table.begin().head(range.orElse("whole unit"));
      quantities.forEach(q -> table.cell(out -> field(out, range, q)));
      table.end();
    }
    table.close();
  }

  private Set<Optional<String>> ranges() {
    Set<Optional<String>> ranges = new LinkedHashSet<>();
    sheet.assessment().results().stream()
        .filter(judged::contains)
        .forEach(r -> ranges.add(r.range()));
    return ranges;
  }

  private void field(Markup out, Optional<String> range, ResultQuantity quantity) {
    List<Result> here =
        judged.stream()
            .filter(r -> r.range().equals(range) && r.quantity() == quantity)
            .sorted(Margin.worstFirst())
            .toList();
    if (here.isEmpty()) {
      return;
    }
    Result worst = here.get(0);
    MarkedWords.conformity(out, worst.judgement().orElseThrow().conformity());
    String distance = Margin.inWords(worst);
    String of = here.size() > 1 ? " worst of " + here.size() : "";
    out.element("span", (distance.isEmpty() ? "" : " " + distance) + of, "class", "at");
    LimitPicture.write(out, worst);
    out.element("div", Symbols.of(Figures.stated(worst).orElse("not computed")), "class", "stated");
  }
}
