// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

/**
 * Joins many writes into few transactions: all that is written between its making and {@link
 * #finish} is committed each time that enough rows have come, so that another process that writes
 * the same logbook never waits long. What is fewer rows than that is there whole or not at all. One
 * thread, the thread that made it; close it.
 */
public final class GroupedTransactions implements AutoCloseable {
  private static final String ATTEMPT = "writing many rows";

  private final SqlSession session;
  private final int size;
  private long rows;
  private boolean held;

  GroupedTransactions(SqlSession session, int size) {
    this.session = session;
    this.size = size;
    session.hold(ATTEMPT);
    held = true;
  }

  /**
   * Counts rows that were written, and commits if that makes enough.
   *
   * @param more how many, 0 or more
   */
  public void wrote(long more) {
    rows += more;
    if (rows >= size) {
      rows = 0;
      release(true);
      session.hold(ATTEMPT);
      held = true;
    }
  }

  /** Commits the rest. */
  public void finish() {
    release(true);
    WalCheckpoints.whenPossible(session);
  }

  private void release(boolean done) {
    held = false;
    session.release(ATTEMPT, done);
  }

  /** Takes back what was not committed yet, unless finished. */
  @Override
  public void close() {
    if (held) {
      release(false);
    }
  }
}
