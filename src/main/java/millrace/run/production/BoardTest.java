// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.List;

/** Runs the sequence on one board and judges it. */
public interface BoardTest {
  /**
   * Tests a board: everything is in the logbook before this returns.
   *
   * @param board the board to test
   * @return its result
   * @throws millrace.fault.MillraceException if the run could not end as planned; the bench was
   *     made safe before
   */
  BoardResult test(BoardTestJob board);

  /**
   * What the operator has to know before the next scan.
   *
   * @return sentences; empty if there is nothing new
   */
  default List<String> news() {
    return List.of();
  }
}
