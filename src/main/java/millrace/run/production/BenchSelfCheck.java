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
 */
public record BenchSelfCheck(
    long run, boolean good, List<String> findings, int learnt, int needed) {
  /** Copies the list. */
  public BenchSelfCheck {
    findings = List.copyOf(findings);
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
