// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import millrace.evidence.Limit;
import millrace.report.plot.Mark;
import millrace.report.plot.PlotLinePoint;
import millrace.report.plot.SeriesStyle;

/** Limits of slopes, drawn as lines that bound the current. */
final class SlopeLimitLines {
  /**
   * Limit lines that reach beyond this multiple of the largest measured value are left out, since
   * they would flatten the data.
   */
  private static final double MOST = 12;

  private SlopeLimitLines() {}

  /** The ends of a line and the place of its zero; the slope is a factor. */
  record Fan(double from, double to, double x0) {}

  static Fan fan(double from, double to) {
    return new Fan(from, to, 0);
  }

  /**
   * The lines with the slopes of a limit.
   *
   * @param limit in units of the vertical axis per unit of the horizontal one
   * @param fan the ends of the lines and the place where they cross zero
   * @param largest the largest measured value
   * @return the lines; empty if they lie far outside the measured values
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
