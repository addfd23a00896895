// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.report.plot.Axis;
import millrace.report.plot.Chart;
import millrace.report.plot.Mark;
import millrace.report.plot.PointWithErrorBar;
import millrace.report.plot.SeriesStyle;

/** Chart of the checks of a reference unit against its control limits. */
public final class ReferenceUnitShares {
  private ReferenceUnitShares() {}

  /**
   * The chart of all quantities together.
   *
   * @param serial serial number of the reference unit
   * @param shares one value per check, in order: the largest distance of a quantity from its centre
   *     line, divided by the allowed distance
   * @param simulated whether the bench is
   * @return the chart
   */
  public static Chart of(String serial, List<Double> shares, boolean simulated) {
    List<PointWithErrorBar> points = new ArrayList<>();
    for (int i = 0; i < shares.size(); i++) {
      points.add(PointWithErrorBar.of(i + 1, shares.get(i), 0));
    }
    return new Chart(
        new Chart.Words(
            "Checks with " + serial,
            "The largest distance of a quantity from the centre of its chart, over what the chart"
                + " allows, for each check; above 1 the bench is out.",
            simulated ? Optional.of("SIMULATED") : Optional.empty()),
        Axis.counted("Check", ""),
        Axis.counted("Largest distance over the allowed one", "").with(0).with(1),
        List.of(Mark.Points.of("checks", SeriesStyle.FIRST, points), new Mark.Level("limit", 1)),
        Chart.Size.STRIP);
  }
}
