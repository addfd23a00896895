// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.List;

/**
 * What a self-check of the bench came to.
 *
 * @param run its local number in the logbook; 0 where it never began
 * @param good true if production may go on
 * @param findings what was out, each a sentence; empty if it is good
 * @param learnt how many earlier good checks the chart rests on
 * @param needed how many it needs before its limits count
 * @param shares of the checks with this set-up, this one last: the largest distance of a quantity
 *     from the chart's centre, over what the chart allows; 1 is the limit. Empty until it is
 *     charted
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
   * @param share the largest distance over what is allowed, 0 or more
   */
  public record ChartShare(long run, double share) {}

  /** Copies the lists. */
  public BenchSelfCheck {
    findings = List.copyOf(findings);
    shares = List.copyOf(shares);
  }

  /**
   * Tells whether the chart's limits were used, not the datasheet's alone.
   *
   * @return true once enough good checks are known
   */
  public boolean charted() {
    return learnt >= needed;
  }
}
