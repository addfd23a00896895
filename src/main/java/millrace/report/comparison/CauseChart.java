// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.assessment.comparison.Comparison;
import millrace.report.page.ReportContext;
import millrace.report.plot.Axis;
import millrace.report.plot.Chart;
import millrace.report.plot.Mark;
import millrace.report.plot.PlotLinePoint;
import millrace.report.plot.PointWithErrorBar;
import millrace.report.plot.SeriesStyle;

/** Pareto chart of causes: the most frequent first, with the cumulative share. */
final class CauseChart {
  private static final int MOST = 6;

  private CauseChart() {}

  static Chart of(Comparison comparison) {
    List<String> names = new ArrayList<>();
    List<Integer> units = new ArrayList<>();
    List<Comparison.CauseCount> causes = comparison.causes();
    boolean all = causes.size() <= MOST;
    for (Comparison.CauseCount cause : all ? causes : causes.subList(0, MOST - 1)) {
      names.add(cause.cause());
      units.add(cause.units());
    }
    if (!all) {
      names.add("%s others".formatted(causes.size() - MOST + 1));
      units.add(causes.stream().skip(MOST - 1).mapToInt(Comparison.CauseCount::units).sum());
    }
    return drawn(names, units, comparison.simulated());
  }

  private static Chart drawn(List<String> names, List<Integer> units, boolean simulated) {
    List<PlotLinePoint> bars = new ArrayList<>();
    List<PointWithErrorBar> sums = new ArrayList<>();
    int sum = 0;
    for (int i = 0; i < units.size(); i++) {
      sum += units.get(i);
      bars.addAll(
          List.of(
              new PlotLinePoint(i - 0.4, 0),
              new PlotLinePoint(i - 0.4, units.get(i)),
              new PlotLinePoint(i + 0.4, units.get(i)),
              new PlotLinePoint(i + 0.4, 0)));
      sums.add(PointWithErrorBar.of(i, sum, 0));
    }
    return new Chart(
        new Chart.Words(
            "Failed units by their likeliest cause",
            "One bar per cause and part, the most frequent first; points: all up to there"
                + " together.",
            simulated ? Optional.of(ReportContext.SIMULATED) : Optional.empty()),
        Axis.named("Cause", names),
        Axis.counted("Units", "").with(0),
        List.of(
            new Mark.Curve("units", SeriesStyle.FIRST, bars),
            Mark.Points.of("together with those before", SeriesStyle.SECOND, sums)),
        Chart.Size.PAGE);
  }
}
