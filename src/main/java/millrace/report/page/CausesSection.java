// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.analysis.causes.Cause;
import millrace.analysis.causes.ErrorCauseDiagnosis;
import millrace.analysis.causes.ErrorCauseDiagnosis.Explained;
import millrace.quantity.NumberText;
import millrace.report.frame.HtmlTable;
import millrace.report.plot.Axis;
import millrace.report.plot.Chart;
import millrace.report.plot.Mark;
import millrace.report.plot.PointWithErrorBar;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.plot.SeriesStyle;
import millrace.report.words.ResultFigures;

/**
 * Error causes (methods.md 9): the measured error of every range, and the error that each cause
 * alone would give. The section is left out if no range lists its parts.
 */
final class CausesSection {
  private static final double ASIDE_PX = 10;

  /** Least probability of a cause that is shown beside a likelier one. */
  private static final double LIKELY = 0.05;

  private static final int MOST_DRAWN = 3;

  private final ReportContext sheet;
  private final ErrorCauseDiagnosis diagnosis;
  private final List<Explained> nearest = new ArrayList<>();

  private CausesSection(ReportContext sheet, ErrorCauseDiagnosis diagnosis) {
    this.sheet = sheet;
    this.diagnosis = diagnosis;
    diagnosis.explained().stream()
        .map(Explained::range)
        .distinct()
        .forEach(r -> nearest(r).ifPresent(nearest::add));
  }

  static void write(ReportContext sheet) {
    sheet
        .diagnosis()
        .filter(d -> !d.causes().isEmpty())
        .ifPresent(d -> new CausesSection(sheet, d).write());
  }

  /** The current at the lowest voltage and the temperature nearest to the reference temperature. */
  private Optional<Explained> nearest(String range) {
    double reference = sheet.assessment().basis().referenceDegC();
    return diagnosis.explained().stream()
        .filter(e -> e.range().equals(range))
        .min(
            (a, b) -> {
              int order =
                  Double.compare(
                      Math.rint(Math.abs(a.degC() - reference)),
                      Math.rint(Math.abs(b.degC() - reference)));
              return order != 0 ? order : Double.compare(a.terminalV(), b.terminalV());
            });
  }

  private void write() {
    sheet.section("Where the errors come from", "causes").paragraph(inWords());
    picture();
    table();
    sheet.list(diagnosis.notes()).end();
  }

  private String inWords() {
    Cause first = diagnosis.causes().get(0);
    String words =
        first.size().isEmpty()
            ? "Nothing abnormal: what was measured is what the tolerances of the parts allow."
            : "Likeliest: " + first.name() + ", " + size(first) + ".";
    String apart =
        first
            .separatedBy()
            .map(by -> " What would tell it from the others of its set: " + by + ".")
            .orElse("");
    String changed =
        diagnosis
            .change()
            .map(c -> "The unit is not one throughout: " + c.inWords() + ". ")
            .orElse("");
    return changed + words + apart;
  }

  private static String size(Cause cause) {
    return cause
        .size()
        .map(s -> ResultFigures.pair(s.value(), s.expandedUncertainty(), s.unit()))
        .map(PrintedUnitSymbols::of)
        .orElse("");
  }

  /** The likely causes; the first is always included. */
  private List<Cause> shown() {
    return diagnosis.causes().stream()
        .filter(c -> c.probability() >= LIKELY || c.equals(diagnosis.causes().get(0)))
        .toList();
  }

  private void picture() {
    List<PointWithErrorBar> normal = new ArrayList<>();
    List<PointWithErrorBar> measured = new ArrayList<>();
    for (int i = 0; i < nearest.size(); i++) {
      Explained e = nearest.get(i);
      normal.add(PointWithErrorBar.of(i, e.nominalPpm(), 2 * e.normalPpm()));
      measured.add(PointWithErrorBar.of(i, e.measuredPpm(), 2 * e.standardUncertaintyPpm()));
    }
    List<Mark> marks = new ArrayList<>();
    marks.add(
        new Mark.Points(
            "design, bars: twice what tolerances allow", SeriesStyle.SECOND, normal, -ASIDE_PX));
    marks.add(new Mark.Points("measured, bars: 2 u", SeriesStyle.FIRST, measured, 0));
    List<Cause> drawn =
        shown().stream().filter(c -> c.size().isPresent()).limit(MOST_DRAWN).toList();
    for (int i = 0; i < drawn.size(); i++) {
      marks.add(alone(drawn.get(i), i));
    }
    Chart.Words words =
        new Chart.Words(
            drawn.isEmpty()
                ? "All ranges: measured error against what the design allows"
                : "All ranges: measured error, and what each likely cause alone would give",
            "For each range the error that the design allows, the measured one, and that of the"
                + " likely causes.",
            sheet.stamp());
    List<String> names = nearest.stream().map(Explained::range).toList();
    Axis up = Axis.counted("Current error", "ppm").with(0);
    sheet.chart(new Chart(words, Axis.named("Range", names), up, marks, Chart.Size.PAGE));
  }

  /** The error that one cause alone would give, beside the measured error. */
  private Mark alone(Cause cause, int place) {
    List<PointWithErrorBar> spots = new ArrayList<>();
    for (int i = 0; i < nearest.size(); i++) {
      spots.add(
          PointWithErrorBar.of(i, nearest.get(i).byCause().getOrDefault(cause.name(), 0.0), 0));
    }
    String name =
        "with %s alone (%s %%)"
            .formatted(cause.name(), NumberText.fixed(100 * cause.probability(), 0));
    return new Mark.Points(name, SeriesStyle.nth(2 + place), spots, (1 + place) * ASIDE_PX);
  }

  private void table() {
    List<HtmlTable.Column> columns = new ArrayList<>();
    columns.add(HtmlTable.Column.words("Cause"));
    columns.add(HtmlTable.Column.figures("Probability"));
    columns.add(HtmlTable.Column.figures("Size"));
    nearest.forEach(e -> columns.add(HtmlTable.Column.figures("Alone in " + e.range() + ", ppm")));
    columns.add(HtmlTable.Column.words("Cannot be separated from"));
    HtmlTable table =
        HtmlTable.open(
            sheet.out(), "Causes, the likeliest first", columns.toArray(HtmlTable.Column[]::new));
    shown().forEach(c -> row(table, c));
    table.close();
  }

  private void row(HtmlTable table, Cause cause) {
    table
        .begin()
        .head(cause.name())
        .figures(NumberText.fixed(100 * cause.probability(), 0) + " %")
        .figures(size(cause));
    for (Explained e : nearest) {
      double alone = e.byCause().getOrDefault(cause.name(), e.nominalPpm());
      table.figures(PrintedUnitSymbols.of(NumberText.fixed(alone, 0)));
    }
    table.cell(String.join(", ", cause.notSeparableFrom())).end();
  }
}
