// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import millrace.evidence.Limit;
import millrace.report.plot.Mark;
import millrace.report.plot.PlotLinePoint;
import millrace.report.plot.SeriesStyle;

/** Limits of slopes, drawn as the lines that a current may follow. */
final class SlopeLimitLines {
  /** A limit farther out than this many times what was measured would leave nothing to be seen. */
  private static final double MOST = 12;

  private SlopeLimitLines() {}

  /** The ends of a line through the origin, in units of its slope. */
  record Fan(double from, double to, double x0) {}

  static Fan fan(double from, double to) {
    return new Fan(from, to, 0);
  }

  /**
   * Lines with the slopes of a limit.
   *
   * @param limit in units of the vertical axis per unit of the horizontal one
   * @param fan between which places, and where they meet zero
   * @param largest the largest number that was measured
   * @return empty where they lie far out of what was measured
   */
  static List<Mark> lines(Limit limit, Fan fan, double largest) {
    List<Mark> lines = new ArrayList<>();
    for (OptionalDouble side : List.of(limit.lower(), limit.upper())) {
      if (side.isPresent() && near(side.getAsDouble(), fan, largest)) {
        double slope = side.getAsDouble();
        lines.add(
            new Mark.Curve(
                "limit",
                SeriesStyle.FOURTH,
                List.of(
                    new PlotLinePoint(fan.from(), slope * (fan.from() - fan.x0())),
                    new PlotLinePoint(fan.to(), slope * (fan.to() - fan.x0())))));
      }
    }
    return lines;
  }

  private static boolean near(double slope, Fan fan, double largest) {
    double reach = Math.max(Math.abs(fan.from() - fan.x0()), Math.abs(fan.to() - fan.x0()));
    return Math.abs(slope) * reach <= MOST * largest;
  }
}
