// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.List;
import millrace.report.plot.Chart;

/**
 * Small plots of the same kind for several ranges or stays, side by side, with one heading and one
 * key.
 *
 * @param heading what the plots show
 * @param intro what to look for in them; may be empty
 * @param panels the plots, one panel each
 */
public record SmallMultiples(String heading, String intro, List<Panel> panels) {
  /** Copies the list. */
  public SmallMultiples {
    panels = List.copyOf(panels);
  }

  /**
   * One small plot.
   *
   * @param chart the plot
   * @param caption number of points, conditions and the results with U; may be empty
   * @param name anchor for links from the results; empty for none
   * @param results anchor of its results; empty for none
   */
  public record Panel(Chart chart, String caption, String name, String results) {}
}
