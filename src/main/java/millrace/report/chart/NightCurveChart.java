// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.List;
import java.util.Optional;
import millrace.planning.night.NightPlan;
import millrace.report.plot.Axis;
import millrace.report.plot.Chart;
import millrace.report.plot.Mark;
import millrace.report.plot.PlotLinePoint;
import millrace.report.plot.PointWithErrorBar;
import millrace.report.plot.SeriesStyle;

/**
 * Chart of the largest U against the length of the night, to show what more or fewer hours change.
 */
public final class NightCurveChart {
  private NightCurveChart() {}

  /**
   * The chart of a search.
   *
   * @param plan result of the search
   * @param simulated whether the bench is
   * @return the chart
   */
  public static Chart of(NightPlan plan, boolean simulated) {
    List<NightPlan.CurvePoint> known =
        plan.curve().stream().filter(p -> p.worstShare().isPresent()).toList();
    List<PlotLinePoint> line =
        known.stream()
            .map(p -> new PlotLinePoint(p.hours(), p.worstShare().orElseThrow()))
            .toList();
    List<PointWithErrorBar> here =
        plan.here().worstShare().stream()
            .map(share -> PointWithErrorBar.of(plan.here().hours(), share, 0))
            .toList();
    Chart.Words words =
        new Chart.Words(
            "What more or fewer hours would bring",
            "The largest U of a limit, over the largest with which it is decided, for nights of"
                + " several lengths; at 1 and above a limit is not decided.",
            simulated ? Optional.of("SIMULATED") : Optional.empty());
    return new Chart(
        words,
        Axis.counted("Length of the night", "h"),
        Axis.counted("U over the largest that decides", "").with(0).with(1),
        List.of(
            new Mark.Curve("computed nights", SeriesStyle.FIRST, line),
            Mark.Points.of("the planned night", SeriesStyle.SECOND, here)),
        Chart.Size.PAGE);
  }
}
