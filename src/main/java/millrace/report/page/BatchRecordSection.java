// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.assessment.comparison.ComparedRun;
import millrace.assessment.comparison.Comparison;
import millrace.evidence.Result;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.Logbook;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.words.DecisionRuleWords;

/** Record part of a batch page: decision rule, instruments with certificates, signatures. */
public final class BatchRecordSection {
  private BatchRecordSection() {}

  /**
   * Writes the section.
   *
   * @param out the page
   * @param comparison the comparison
   * @param book logbook of its runs
   */
  public static void write(Markup out, Comparison comparison, Logbook book) {
    out.line().open("section").element("h2", "For the record");
    List<Result> judged =
        comparison.runs().stream()
            .flatMap(r -> r.results().stream())
            .filter(r -> r.judgement().isPresent())
            .toList();
    if (!judged.isEmpty()) {
      out.element("p", DecisionRuleWords.of(judged));
    }
    instruments(out, comparison, book);
    signatures(out);
    out.close();
  }

  private static void instruments(Markup out, Comparison comparison, Logbook book) {
    Map<List<String>, Integer> used = new LinkedHashMap<>();
    for (ComparedRun run : comparison.runs()) {
      book.reader(run.run().id()).instruments().stream()
          .filter(i -> i.certificate().isPresent())
          .forEach(i -> used.merge(cells(i), 1, Integer::sum));
    }
    if (used.isEmpty()) {
      return;
    }
    HtmlTable table =
        HtmlTable.open(
            out,
            "Instruments with a certificate; values are traceable as far as these are",
            HtmlTable.Column.words("Does"),
            HtmlTable.Column.words("Identity, as it replied"),
            HtmlTable.Column.words("Certificate"),
            HtmlTable.Column.words("Calibrated"),
            HtmlTable.Column.words("Due"),
            HtmlTable.Column.figures("Runs"));
    used.forEach(
        (cells, runs) -> {
          certified(table, cells);
          table.figures(String.valueOf(runs)).end();
        });
    table.close();
  }

  /** The cells of a row for an instrument with its certificate. */
  public static List<String> cells(InstrumentEntry i) {
    InstrumentEntry.Certificate c = i.certificate().orElseThrow();
    return List.of(
        i.roles(),
        i.identity().strip(),
        c.laboratory() + ", " + c.number(),
        c.calibratedOn().map(Object::toString).orElse("not stated"),
        c.dueOn().map(Object::toString).orElse("not stated"));
  }

  /** Begins a row; dates stay on one line. */
  public static void certified(HtmlTable table, List<String> cells) {
    table.begin();
    cells.subList(0, 3).forEach(table::cell);
    cells
        .subList(3, cells.size())
        .forEach(d -> table.cell(o -> o.element("span", d, "class", "short")));
  }

  /** Leaves room for names, dates and signatures. */
  private static void signatures(Markup out) {
    out.line().open("div", "class", "signatures");
    for (String who : List.of("Compiled by", "Released by")) {
      out.open("div", "class", "signature")
          .element("span", who)
          .element("span", "Date")
          .element("span", "Signature")
          .close();
    }
    out.close();
  }
}
