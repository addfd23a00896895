// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.List;
import millrace.report.plot.Chart;

/**
 * Small plots that show the same of several ranges or stays, side by side under one heading and one
 * key.
 *
 * @param heading what they show
 * @param intro what is to be seen in them; may be empty
 * @param panels a plot each
 */
public record SmallMultiples(String heading, String intro, List<Panel> panels) {
  /** Copies the list. */
  public SmallMultiples {
    panels = List.copyOf(panels);
  }

  /**
   * One of them.
   *
   * @param chart its plot
   * @param caption how many points, under which conditions, and what they came to with U; may be
   *     empty
   * @param name by which results find it; empty for none
   * @param results where its results stand; empty for nowhere
   */
  public record Panel(Chart chart, String caption, String name, String results) {}
}
