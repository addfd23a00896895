// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

/**
 * Joins many writes into few transactions. From its creation to {@link #finish} it commits each
 * time that enough rows have been written, so that another process that writes the same logbook
 * never waits long. Fewer rows than that are written all or none. Meanwhile the library does not
 * look up for each row what it refers to: the writer of the run added that just before, and {@code
 * show --verify} looks. One thread, the one that created it; close it.
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
    session.checkReferences(false);
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

  /** Rolls back what was not committed yet, unless finished. */
  @Override
  public void close() {
    if (held) {
      release(false);
    }
    session.checkReferences(true);
  }
}
