// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/**
 * Statements that were closed and wait for the next who asks the same: to prepare one costs as much
 * as to read a short run. Thread-safe.
 */
final class IdleStatements {
  /** So many of the same; more are rarely open at once. */
  private static final int MOST_ALIKE = 2;

  /** So many different ones. */
  private static final int MOST = 100;

  private final Map<String, Deque<SqlStatement>> idle = new HashMap<>();

  /**
   * Those of an earlier generation are closed for good, since no statement outlives a roll-back.
   */
  private int generation;

  /** A statement for this SQL, which is now in use. */
  synchronized Optional<SqlStatement> take(String sql) {
    return Optional.ofNullable(idle.get(sql)).map(Deque::poll);
  }

  /** What becomes of a statement that is made now for this SQL. */
  synchronized SqlStatement.End end(String sql) {
    int made = generation;
    return statement -> keepOrClose(sql, statement, made);
  }

  private synchronized void keepOrClose(String sql, SqlStatement statement, int made)
      throws SQLException {
    if (made != generation || (idle.size() >= MOST && !idle.containsKey(sql))) {
      statement.jdbc().close();
      return;
    }
    Deque<SqlStatement> alike = idle.computeIfAbsent(sql, s -> new ArrayDeque<>());
    if (alike.size() < MOST_ALIKE) {
      alike.add(statement);
    } else {
      statement.jdbc().close();
    }
  }

  /** Closes all that wait, and from now on those that are in use, too. */
  synchronized void forget() throws SQLException {
    generation++;
    for (Deque<SqlStatement> alike : idle.values()) {
      for (SqlStatement each : alike) {
        each.jdbc().close();
      }
    }
    idle.clear();
  }
}
