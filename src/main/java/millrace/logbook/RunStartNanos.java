// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;

/** When a run started, which a file counts the wall clock of its readings from. Single-threaded. */
final class RunStartNanos {
  private final SqlSession session;
  private final long run;
  private boolean known;
  private long nanos;

  RunStartNanos(SqlSession session, long run) {
    this.session = session;
    this.run = run;
  }

  /** In nanoseconds since 1970-01-01T00:00:00Z; asked once, and not before it is wanted. */
  long get() throws SQLException {
    if (!known) {
      nanos =
          session
              .one(
                  "SELECT started_at FROM run WHERE id = ?",
                  slots -> slots.whole(run),
                  SqlQueryRow::whole)
              .orElseThrow();
      known = true;
    }
    return nanos;
  }
}
