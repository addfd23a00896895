// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.ArrayList;
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
    List<PlotLinePoint> line = steps(known, plan.here().hours());
    List<PointWithErrorBar> here =
        plan.here().worstShare().stream()
            .map(share -> PointWithErrorBar.of(plan.here().hours(), share, 0))
            .toList();
    Chart.Words words =
        new Chart.Words(
            "What more or fewer hours would bring",
            "The largest U of a limit, over the largest with which it is decided, of the best night"
                + " computed that is no longer than this; at 1 and above a limit is not decided.",
            simulated ? Optional.of("SIMULATED") : Optional.empty());
    return new Chart(
        words,
        Axis.counted("Length of the night", "h"),
        Axis.counted("U over deciding U", "").with(0).with(1),
        List.of(
            new Mark.Level("decides below", 1),
            new Mark.Curve("best night up to this length", SeriesStyle.FIRST, line),
            Mark.Points.of("the planned night", SeriesStyle.SECOND, here)),
        Chart.Size.PAGE);
  }

  /** What a longer night does not lower it keeps: a share holds up to the next night. */
  private static List<PlotLinePoint> steps(List<NightPlan.CurvePoint> known, double plannedH) {
    List<PlotLinePoint> corners = new ArrayList<>();
    for (NightPlan.CurvePoint p : known) {
      double share = p.worstShare().orElseThrow();
      if (!corners.isEmpty()) {
        corners.add(new PlotLinePoint(p.hours(), corners.get(corners.size() - 1).y()));
      }
      corners.add(new PlotLinePoint(p.hours(), share));
    }
    if (!corners.isEmpty() && corners.get(corners.size() - 1).x() < plannedH) {
      corners.add(new PlotLinePoint(plannedH, corners.get(corners.size() - 1).y()));
    }
    return corners;
  }
}
