// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.List;
import java.util.Optional;
import millrace.analysis.conformity.FailedResult;
import millrace.evidence.EarlyEnd;

/**
 * The result of one test.
 *
 * @param run its local number in the logbook; 0 if it never began
 * @param outcome pass, fail or neither
 * @param shortfalls the failed results with their excess, the worst first
 * @param doubts why it was not judged, in words; empty if it was
 * @param bin the bin of a passing unit; empty where the datasheet has none
 * @param early the points left out, since fewer were enough; empty where all were measured
 * @param drifts what drifts within its batch and what to do, and what it could not be held against,
 *     sentences; empty if nothing does
 * @param hint the source of the error of a failed unit, in words; empty if it is not known
 */
public record BoardResult(
    long run,
    BoardOutcome outcome,
    List<FailedResult> shortfalls,
    List<String> doubts,
    Optional<String> bin,
    Optional<EarlyEnd> early,
    List<String> drifts,
    Optional<String> hint) {
  /** Copies the lists. */
  public BoardResult {
    shortfalls = List.copyOf(shortfalls);
    doubts = List.copyOf(doubts);
    drifts = List.copyOf(drifts);
  }

  /**
   * The result of an aborted test.
   *
   * @param why the reason, a sentence
   * @return the result
   */
  static BoardResult aborted(String why) {
    return new BoardResult(
        0,
        BoardOutcome.ABORTED,
        List.of(),
        List.of(why),
        Optional.empty(),
        Optional.empty(),
        List.of(),
        Optional.empty());
  }
}
