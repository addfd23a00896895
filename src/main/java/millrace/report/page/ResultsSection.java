// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Judgement;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.quantity.NumberText;
import millrace.report.frame.HighlightedWords;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.words.LimitMargin;
import millrace.report.words.ResultConditionWords;
import millrace.report.words.ResultFigures;

/**
 * All results, range by range. Each links to its budget, chart and points; its methods and notes
 * are listed below.
 */
final class ResultsSection {
  private static final int COLUMNS = 4;
  private static final double SAME = 1e-6;

  /**
   * Least offset of an interval from the value, as a share of U, that is stated in addition to
   * value and U.
   */
  private static final double ASIDE = 0.02;

  private final ReportContext sheet;
  private final ReportAnchors places;

  /** Numbers of notes and methods, in the order of first use. */
  private final Map<String, Integer> notes = new LinkedHashMap<>();

  private ResultsSection(ReportContext sheet) {
    this.sheet = sheet;
    this.places = sheet.anchors();
  }

  static void write(ReportContext sheet) {
    new ResultsSection(sheet).write();
  }

  private void write() {
    int count = sheet.assessment().results().size();
    sheet
        .folded("All results", "results", NumberText.counted(count, "result"))
        .paragraph(
            "Value and expanded uncertainty U, coverage "
                + percent(usualCoverage())
                + " where nothing else is said, k = U/u with \u03bd degrees of freedom; an interval"
                + " is told where it is not value \u00b1 U. The number of a result is that of its"
                + " budget. Without a limit: not promised by the datasheet.");
    byRange().forEach(this::range);
    numbered();
    sheet.endFolded();
  }

  private Map<Optional<String>, List<Result>> byRange() {
    Map<Optional<String>, List<Result>> groups = new LinkedHashMap<>();
    sheet
        .assessment()
        .results()
        .forEach(r -> groups.computeIfAbsent(r.range(), k -> new ArrayList<>()).add(r));
    return groups;
  }

  private void range(Optional<String> range, List<Result> results) {
    Markup out = sheet.out();
    String words = range.map(n -> "Range " + n).orElse("The whole unit");
    out.line().element("h3", words, "id", places.results(range));
    Map<ResultQuantity, List<Result>> quantities = new LinkedHashMap<>();
    results.forEach(r -> quantities.computeIfAbsent(r.quantity(), q -> new ArrayList<>()).add(r));
    out.line().open("div", "class", "columns");
    HtmlTable table =
        HtmlTable.open(
            out,
            "",
            HtmlTable.Column.words("Quantity"),
            HtmlTable.Column.figures("Value \u00b1 U"),
            HtmlTable.Column.figures("k (\u03bd)"),
            HtmlTable.Column.words("No., notes"));
    quantities.values().forEach(same -> quantity(table, same));
    table.close();
    out.close();
  }

  private void quantity(HtmlTable table, List<Result> same) {
    if (same.size() == 1) {
      table.rows();
      row(table, same.get(0), true);
    } else {
      table.group(same.get(0).quantity().inWords(), COLUMNS);
      same.forEach(r -> row(table, r, false));
    }
  }

  private void row(HtmlTable table, Result r, boolean named) {
    Optional<ComputationOutcome.Uncertainty> u = ResultFigures.uncertainty(r);
    table
        .begin()
        .head(out -> what(out, r, named))
        .folding(PrintedUnitSymbols.of(ResultFigures.inWords(r)))
        .figures(u.map(ResultsSection::factor).orElse(""))
        .cell(out -> references(out, r))
        .end();
    r.judgement().ifPresent(j -> judgement(table, r, j));
    u.filter(i -> needsInterval(r, i)).ifPresent(i -> interval(table, r, i));
  }

  private void what(Markup out, Result r, boolean named) {
    String at = PrintedUnitSymbols.of(ResultConditionWords.of(r.at()));
    String words = named ? r.quantity().inWords() + (at.isEmpty() ? "" : ", ") : "";
    out.element("span", words + at, "id", sheet.named("r" + sheet.number(r)));
  }

  private static void judgement(HtmlTable table, Result r, Judgement j) {
    String margin = LimitMargin.inWords(r);
    table
        .begin()
        .over(
            out -> {
              HighlightedWords.conformity(out, j.conformity());
              out.text(
                  " limit "
                      + PrintedUnitSymbols.of(ResultFigures.limit(j.limit(), r.quantity().unit())));
              out.text(margin.isEmpty() ? "" : ", " + margin);
            },
            COLUMNS)
        .end();
  }

  private boolean needsInterval(Result r, ComputationOutcome.Uncertainty u) {
    double middle = (u.lower() + u.upper()) / 2;
    boolean aside =
        r.outcome() instanceof ComputationOutcome.Value v
            && Math.abs(middle - v.value()) > ASIDE * u.expanded();
    return aside || Math.abs(u.coverage() - usualCoverage()) > SAME;
  }

  private void interval(HtmlTable table, Result r, ComputationOutcome.Uncertainty u) {
    String words = PrintedUnitSymbols.of(ResultFigures.interval(u, r.quantity().unit()));
    boolean usual = Math.abs(u.coverage() - usualCoverage()) < SAME;
    table
        .begin()
        .over(
            out ->
                out.text("interval " + words + (usual ? "" : " (" + percent(u.coverage()) + ")")),
            COLUMNS)
        .end();
  }

  private static String factor(ComputationOutcome.Uncertainty u) {
    boolean infinite = u.degreesOfFreedom().isEmpty();
    String degrees = infinite ? "\u221e" : ResultFigures.degrees(u.degreesOfFreedom());
    return NumberText.fixed(u.coverageFactor(), 2) + " (" + degrees + ")";
  }

  private double usualCoverage() {
    return sheet.assessment().basis().coverage();
  }

  private static String percent(double probability) {
    return NumberText.fixed(probability * 100, 2) + " %";
  }

  private void references(Markup out, Result r) {
    String number = String.valueOf(sheet.number(r));
    if (r.budget().isEmpty()) {
      out.text(number);
    } else {
      sheet.link(number, "b" + number);
    }
    go(out, "plot", places.plot(r).filter(sheet::has));
    go(out, "points", places.points(r));
    number(out, "Method: " + r.method());
    r.ppmBase().ifPresent(b -> number(out, "ppm are counted of " + b));
    r.notes().forEach(n -> number(out, n));
  }

  /** Writes a link for screens only; on paper the numbers serve. */
  private static void go(Markup out, String words, Optional<String> name) {
    name.ifPresent(n -> out.text(" ").element("a", words, "href", "#" + n, "class", "go"));
  }

  private void number(Markup out, String note) {
    Integer known = notes.get(note);
    int number = known == null ? notes.size() + 1 : known;
    notes.putIfAbsent(note, number);
    out.text(" ").element("a", "[" + number + "]", "href", "#" + note(number));
  }

  private static String note(int number) {
    return "note" + number;
  }

  private void numbered() {
    if (notes.isEmpty()) {
      return;
    }
    Markup out = sheet.heading("Methods and notes").out();
    out.line().open("ol", "class", "notes");
    notes.forEach(
        (words, number) -> {
          out.open("li", "id", note(number));
          MethodsSection.linked(out, PrintedUnitSymbols.of(words));
          out.close();
        });
    sheet.end();
  }
}
