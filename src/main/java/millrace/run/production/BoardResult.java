// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.List;
import java.util.Optional;
import millrace.evidence.EarlyEnd;

/**
 * What came of one test.
 *
 * @param run its local number in the logbook; 0 where it never began
 * @param outcome pass, fail or neither
 * @param shortfalls what failed and by how much, the worst first
 * @param doubts why it was not judged, in words; empty if it was
 * @param bin the bin that a passing unit belongs to; empty where the datasheet has none
 * @param early what was not measured, since less was enough; empty where all was
 * @param hint where the error of a failed unit comes from, in words; empty if that cannot be told
 */
public record BoardResult(
    long run,
    BoardOutcome outcome,
    List<FailedResult> shortfalls,
    List<String> doubts,
    Optional<String> bin,
    Optional<EarlyEnd> early,
    Optional<String> hint) {
  /** Copies the lists. */
  public BoardResult {
    shortfalls = List.copyOf(shortfalls);
    doubts = List.copyOf(doubts);
  }

  /**
   * A test that was broken off.
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
        Optional.empty());
  }
}
