// SPDX-License-Identifier: Apache-2.0
package millrace.report.unit;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Budget;
import millrace.assessment.history.RangeHistory;
import millrace.assessment.history.RangeHistory.Drift;
import millrace.assessment.history.RangeHistory.Forecast;
import millrace.assessment.history.RangeHistory.Visit;
import millrace.assessment.history.UnitHistory;
import millrace.assessment.history.UnitRun;
import millrace.evidence.ComputationOutcome;
import millrace.report.page.ReportContext;
import millrace.report.plot.Axis;
import millrace.report.plot.BandEdges;
import millrace.report.plot.Chart;
import millrace.report.plot.Mark;
import millrace.report.plot.PlotLinePoint;
import millrace.report.plot.PointWithErrorBar;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.plot.SeriesStyle;

/** Current error of one range over the years, with its drift, its limits and repairs. Stateless. */
final class RangeHistoryChart {
  private static final int CORNERS = 40;

  private final UnitHistory history;
  private final RangeHistory range;

  private RangeHistoryChart(UnitHistory history, RangeHistory range) {
    this.history = history;
    this.range = range;
  }

  /** The chart of a range. */
  static Chart of(UnitHistory history, RangeHistory range) {
    return new RangeHistoryChart(history, range).chart();
  }

  private Chart chart() {
    List<Mark> marks = new ArrayList<>();
    points(marks, "current error \u00b1 U", SeriesStyle.FIRST, true);
    points(marks, "not in the drift", SeriesStyle.SECOND, false);
    double first = range.visits().get(0).day();
    double last =
        range.forecasts().stream()
            .mapToDouble(f -> f.reach().toEpochDay())
            .max()
            .orElse(range.last().day());
    range.drift().ifPresent(d -> line(marks, d, last));
    range.forecasts().stream().limit(1).forEach(f -> limits(marks, f));
    repairs(marks, first, last);
    Chart.Words words =
        new Chart.Words(
            "Range " + range.range() + ": current error over time",
            "The current error at each visit with its expanded uncertainty, the line of the drift"
                + " with its interval, the limits, and repairs."
                + range
                    .drift()
                    .map(
                        d ->
                            " It drifts by "
                                + PrintedUnitSymbols.of(UnitHistoryWords.drift(d))
                                + ".")
                    .orElse(""),
            history.simulated() ? Optional.of(ReportContext.SIMULATED) : Optional.empty());
    Axis days = Axis.inOrder("Day of the visit", DateTicks.between(first, last));
    return new Chart(words, days, Axis.counted("Current error", "ppm"), marks, Chart.Size.PAGE);
  }

  private void points(List<Mark> marks, String name, SeriesStyle style, boolean counts) {
    List<PointWithErrorBar> spots =
        range.visits().stream()
            .filter(v -> v.counts() == counts)
            .map(RangeHistoryChart::spot)
            .toList();
    if (!spots.isEmpty()) {
      marks.add(Mark.Points.of(name, style, spots));
    }
  }

  private static PointWithErrorBar spot(Visit v) {
    double half = v.uncertainty().map(ComputationOutcome.Uncertainty::expanded).orElse(0.0);
    return PointWithErrorBar.of(v.day(), v.errorPpm(), half);
  }

  /** The line and its interval, from its first visit to where the visits reach. */
  private void line(List<Mark> marks, Drift drift, double last) {
    double first = range.counting().get(0).day();
    List<BandEdges> band = new ArrayList<>();
    List<PlotLinePoint> corners = new ArrayList<>();
    for (int i = 0; i <= CORNERS; i++) {
      double day = first + (last - first) * i / CORNERS;
      ComputationOutcome.Uncertainty u =
          Budget.of(drift.line().at(day)).uncertainty(history.coverage());
      band.add(new BandEdges(day, u.lower(), u.upper()));
      corners.add(new PlotLinePoint(day, drift.at(day)));
    }
    marks.add(new Mark.Band("interval of the line", band));
    marks.add(
        new Mark.Curve(
            "drift, " + PrintedUnitSymbols.of(UnitHistoryWords.drift(drift)),
            SeriesStyle.FIRST,
            corners));
  }

  /** Where the reference condition reaches a limit: less what the limit's conditions add. */
  private static void limits(List<Mark> marks, Forecast f) {
    level(marks, f.limit().upper(), f.computed().toUpper().value());
    level(marks, f.limit().lower(), f.computed().toLower().value());
  }

  private static void level(List<Mark> marks, OptionalDouble limit, double added) {
    limit.ifPresent(l -> marks.add(new Mark.Level("limit", l - added)));
  }

  private void repairs(List<Mark> marks, double first, double last) {
    List<UnitRun> runs = history.runs();
    for (int i = 0; i < runs.size(); i++) {
      UnitRun run = runs.get(i);
      double next = i + 1 < runs.size() ? runs.get(i + 1).days() : last;
      if (run.workBefore().isPresent() && within(run.days(), first, last)) {
        marks.add(new Mark.Upright("retest", run.days(), 0));
      }
      for (UnitRun.Work w : run.workAfter()) {
        double day = Math.max(run.days(), Math.min(next, w.writtenAt().toEpochMilli() / 86.4e6));
        if (within(day, first, last)) {
          marks.add(new Mark.Upright("repair", day, 0));
        }
      }
    }
  }

  private static boolean within(double day, double first, double last) {
    return day >= first && day <= last;
  }
}
