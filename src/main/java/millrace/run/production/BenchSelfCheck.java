// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.List;

/**
 * The result of a self-check of the bench.
 *
 * @param run its local number in the logbook; 0 if it never began
 * @param good true if production may go on
 * @param findings what is beyond its limits, each a sentence; empty if the check is good
 * @param learnt the number of earlier good checks behind the chart
 * @param needed the number needed before its limits apply
 * @param shares for each check with this set-up, this one last: the largest distance of a quantity
 *     from the centre of the chart, divided by the allowed distance; 1 is the limit. Empty without
 *     a chart
 */
public record BenchSelfCheck(
    long run,
    boolean good,
    List<String> findings,
    int learnt,
    int needed,
    List<ChartShare> shares) {
  /**
   * A check on the chart.
   *
   * @param run its local number in the logbook
   * @param share the largest distance divided by the allowed distance, 0 or more
   */
  public record ChartShare(long run, double share) {}

  /** Copies the lists. */
  public BenchSelfCheck {
    findings = List.copyOf(findings);
    shares = List.copyOf(shares);
  }

  /**
   * Tells whether the limits of the chart were used besides those of the datasheet.
   *
   * @return true after enough good checks
   */
  public boolean charted() {
    return learnt >= needed;
  }
}
