// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.evidence.Outcome;
import millrace.evidence.Result;
import millrace.quantity.Numbers;
import millrace.report.plot.Symbols;
import millrace.report.words.Figures;

/** Every result in one table, with the methods and notes that it refers to below. */
final class ResultsSection {
  private static final int COLUMNS = 7;
  private static final double SAME = 1e-6;

  private final Sheet sheet;

  /** Notes and methods by their number, in the order of first use. */
  private final Map<String, Integer> notes = new LinkedHashMap<>();

  private ResultsSection(Sheet sheet) {
    this.sheet = sheet;
  }

  static void write(Sheet sheet) {
    new ResultsSection(sheet).write();
  }

  private void write() {
    int count = sheet.assessment().results().size();
    sheet.folded("All results", "results", Numbers.counted(count, "result"));
    Table table =
        Table.open(
            sheet.out(),
            "Value and expanded uncertainty U, k = U/u with \u03bd degrees of freedom; coverage "
                + percent(usualCoverage())
                + " where nothing else is said. Without a limit: not promised by the datasheet",
            Table.Column.words("Quantity"),
            Table.Column.figures("Value \u00b1 U"),
            Table.Column.figures("Coverage interval"),
            Table.Column.figures("k (\u03bd)"),
            Table.Column.figures("Limit"),
            Table.Column.words("Conformity"),
            Table.Column.words("Notes"));
    byRange().forEach((range, results) -> group(table, range, results));
    table.close();
    numbered();
    sheet.endFolded();
  }

  private Map<String, List<Result>> byRange() {
    Map<String, List<Result>> groups = new LinkedHashMap<>();
    for (Result r : sheet.assessment().results()) {
      String range = r.range().map(n -> "Range " + n).orElse("The whole unit");
      groups.computeIfAbsent(range, k -> new ArrayList<>()).add(r);
    }
    return groups;
  }

  private void group(Table table, String range, List<Result> results) {
    table.group(range, COLUMNS);
    results.forEach(r -> row(table, r));
  }

  private void row(Table table, Result r) {
    String unit = r.quantity().unit();
    Optional<Outcome.Uncertainty> u = Figures.uncertainty(r);
    table
        .begin()
        .head(out -> MarkedWords.quantity(out, r))
        .figures(Symbols.of(Figures.inWords(r)))
        .figures(u.map(i -> Symbols.of(Figures.interval(i, unit)) + coverage(i)).orElse(""))
        .figures(u.map(ResultsSection::factor).orElse(""))
        .folding(r.judgement().map(j -> Symbols.of(Figures.limit(j.limit(), unit))).orElse(""))
        .cell(out -> r.judgement().ifPresent(j -> MarkedWords.conformity(out, j.conformity())))
        .cell(references(r))
        .end();
  }

  private static String factor(Outcome.Uncertainty u) {
    boolean infinite = u.degreesOfFreedom().isEmpty();
    String degrees = infinite ? "\u221e" : Figures.degrees(u.degreesOfFreedom());
    return Numbers.fixed(u.coverageFactor(), 2) + " (" + degrees + ")";
  }

  private double usualCoverage() {
    return sheet.assessment().basis().coverage();
  }

  /** The coverage of one interval, where it is not the usual. */
  private String coverage(Outcome.Uncertainty u) {
    return Math.abs(u.coverage() - usualCoverage()) < SAME
        ? ""
        : " (" + percent(u.coverage()) + ")";
  }

  private static String percent(double probability) {
    return Numbers.fixed(probability * 100, 2) + " %";
  }

  private String references(Result r) {
    List<String> numbers = new ArrayList<>();
    numbers.add(number("Method: " + r.method()));
    r.ppmBase().ifPresent(b -> numbers.add(number("ppm are counted of " + b)));
    r.notes().forEach(n -> numbers.add(number(n)));
    return String.join(" ", numbers);
  }

  private String number(String note) {
    Integer known = notes.get(note);
    int number = known == null ? notes.size() + 1 : known;
    notes.putIfAbsent(note, number);
    return "[" + number + "]";
  }

  private void numbered() {
    if (notes.isEmpty()) {
      return;
    }
    sheet.heading("Methods and notes").out().line().open("ol", "class", "notes");
    notes.keySet().forEach(n -> sheet.out().element("li", n));
    sheet.end();
  }
}
