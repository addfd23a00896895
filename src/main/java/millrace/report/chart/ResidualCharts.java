// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.report.chart.PointsBySweepDirection.Way;
import millrace.report.plot.Axis;
import millrace.report.plot.Chart;
import millrace.report.plot.Mark;
import millrace.report.plot.PointWithErrorBar;

/**
 * Residuals of the plateau lines of all stays, side by side, on one scale for all ranges. This
 * shows a bend, a step between directions or an outlier at once.
 */
public final class ResidualCharts {
  /** Share of the space between two stays that their points fill. */
  private static final double SPREAD = 0.8;

  private final Map<String, List<LoadCharts>> ranges;
  private final Optional<String> stamp;
  private final double highest;

  /**
   * Charts of all load sweeps.
   *
   * @param ranges the sweeps of each range, in the order of measurement
   * @param stamp mark for a simulated run; empty otherwise
   */
  public ResidualCharts(Map<String, List<LoadCharts>> ranges, Optional<String> stamp) {
    this.ranges = ranges;
    this.stamp = stamp;
    this.highest =
        ranges.values().stream()
            .flatMap(List::stream)
            .flatMap(c -> c.residuals().values().stream())
            .flatMap(List::stream)
            .mapToDouble(s -> Math.abs(s.y()) + s.halfY())
            .max()
            .orElse(1);
  }

  /**
   * The chart of all stays of one range.
   *
   * @param range one of the ranges
   */
  public Chart of(String range) {
    List<LoadCharts> sweeps = ranges.get(range);
    Map<Way, List<PointWithErrorBar>> all = new EnumMap<>(Way.class);
    List<String> names = new ArrayList<>();
    for (LoadCharts sweep : sweeps) {
      Map<Way, List<PointWithErrorBar>> own = sweep.residuals();
      double far =
          own.values().stream()
              .flatMap(List::stream)
              .mapToDouble(s -> Math.abs(s.x()))
              .max()
              .orElse(1);
      int place = names.size();
      own.forEach(
          (way, spots) ->
              spots.forEach(
                  s ->
                      all.computeIfAbsent(way, w -> new ArrayList<>())
                          .add(at(s, place, far > 0 ? far : 1))));
      names.add(sweep.shortly());
    }
    List<Mark> marks = new ArrayList<>();
    all.forEach((way, spots) -> marks.add(Mark.Points.of(way.barred(), way.look(), spots)));
    marks.add(new Mark.Level("", 0));
    return new Chart(
        new Chart.Words(
            range,
            "What each plateau point differs from its plateau line, in ppm of the nominal current,"
                + " stay beside stay.",
            stamp),
        Axis.named("Stays, each from 0 V to the plateau's end", names),
        Axis.counted("Residual", "ppm").with(highest).with(-highest),
        marks,
        Chart.Size.PAIR);
  }

  private static PointWithErrorBar at(PointWithErrorBar s, int place, double far) {
    double x = place + SPREAD * (Math.abs(s.x()) / far - 0.5);
    return new PointWithErrorBar(x, s.y(), 0, s.halfY());
  }
}
