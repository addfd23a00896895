// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.benches;

import java.util.List;
import java.util.Optional;
import millrace.logbook.RunSummary;

/**
 * The checks of one bench with one reference unit in one set-up, in the order of time.
 *
 * @param bench name of the bench
 * @param setUp fixture and cables, in words; empty text if nothing was stated
 * @param reference serial number of the reference unit
 * @param checks at least one
 * @param spans when the bench was out, in the order of time; empty if no check was out
 */
public record BenchHistory(
    String bench, String setUp, String reference, List<Check> checks, List<Span> spans) {
  /** Copies the lists. */
  public BenchHistory {
    checks = List.copyOf(checks);
    spans = List.copyOf(spans);
  }

  /**
   * One check.
   *
   * @param run its run
   * @param findings what was beyond its limits, sentences without their full stops; empty for a
   *     good check
   */
  public record Check(RunSummary run, List<String> findings) {
    /** Copies the list. */
    public Check {
      findings = List.copyOf(findings);
    }

    /**
     * Tells whether the bench was good.
     *
     * @return true without findings
     */
    public boolean good() {
      return findings.isEmpty();
    }
  }

  /**
   * A time in which the bench was out, or may have been.
   *
   * @param lastGood the last good check before; empty if there was none
   * @param firstOut the first check that was out
   * @param nextGood the first good check after; empty if the bench is still out
   * @param recall runs of units on the bench after the last good check and before the next
   */
  public record Span(
      Optional<Check> lastGood, Check firstOut, Optional<Check> nextGood, List<RunSummary> recall) {
    /** Copies the list. */
    public Span {
      recall = List.copyOf(recall);
    }
  }

  /**
   * Tells whether the last check was out.
   *
   * @return true if so
   */
  public boolean isOut() {
    return !checks.get(checks.size() - 1).good();
  }
}
