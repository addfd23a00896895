// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

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
}
