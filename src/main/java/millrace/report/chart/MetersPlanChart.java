// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.planning.meters.AccuracyNeed;
import millrace.planning.meters.MetersPlan;
import millrace.report.plot.Axis;
import millrace.report.plot.Chart;
import millrace.report.plot.Mark;
import millrace.report.plot.PointWithErrorBar;
import millrace.report.plot.SeriesStyle;

/** Chart of the accuracy that each part of each instrument needs, against the one that it has. */
public final class MetersPlanChart {
  private static final double WIDTH_PX = 658;
  private static final double AROUND_PX = 40;
  private static final double ROW_PX = 18;
  private static final String TOO_POOR = "too poor";

  private MetersPlanChart() {}

  /**
   * The chart of a plan.
   *
   * @param plan a plan with at least one need
   * @param simulated whether its bench is
   * @return the chart; one row per need, the first at the top
   */
  public static Chart of(MetersPlan plan, boolean simulated) {
    List<AccuracyNeed> rising = new ArrayList<>();
    plan.needs().forEach(need -> rising.add(0, need));
    String whose = plan.own().isPresent() ? "yours" : "usual";
    List<Mark> marks = new ArrayList<>();
    marks.add(new Mark.Upright(whose, 1, 0));
    Map<String, List<PointWithErrorBar>> named = new LinkedHashMap<>();
    for (int row = 0; row < rising.size(); row++) {
      double factor = rising.get(row).factor();
      named
          .computeIfAbsent(name(plan, factor), n -> new ArrayList<>())
          .add(PointWithErrorBar.of(factor, row, 0));
    }
    named.forEach((name, spots) -> marks.add(Mark.Points.of(name, style(name), spots)));
    Chart.Words words =
        new Chart.Words(
            "Largest error that decides every limit, over " + stated(plan),
            "One row for each part of an accuracy statement. Right of the line there is room; left"
                + " of it the instrument is too poor.",
            simulated ? Optional.of("SIMULATED") : Optional.empty());
    List<String> names = rising.stream().map(need -> need.group().inWords()).toList();
    return new Chart(
        words,
        Axis.counted("Needed over stated", "").byFactors().with(1),
        Axis.named("", names),
        marks,
        new Chart.Size(WIDTH_PX, AROUND_PX + ROW_PX * names.size(), true));
  }

  private static String stated(MetersPlan plan) {
    return plan.own().isPresent() ? "that of your instrument" : "that of a usual instrument";
  }

  private static String name(MetersPlan plan, double factor) {
    return plan.own().isEmpty() ? "largest that decides" : factor >= 1 ? "enough" : TOO_POOR;
  }

  private static SeriesStyle style(String name) {
    return name.equals(TOO_POOR) ? SeriesStyle.SECOND : SeriesStyle.FIRST;
  }
}
