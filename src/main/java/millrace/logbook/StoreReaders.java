// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Optional;
import millrace.fault.LogbookException;

/**
 * Connections to a store for who looks again and again: one that was closed waits for the next
 * look, since to log in costs a server more than most questions. Each look sees the store as it
 * stands then. Thread-safe.
 */
final class StoreReaders {
  /** So many wait at most; more are rarely open at once, and a server has a bound for all. */
  private static final int MOST_IDLE = 2;

  private final StoreAddress address;
  private final Deque<SqlSession> idle = new ArrayDeque<>();

  StoreReaders(StoreAddress address) {
    this.address = address;
  }

  StoreAddress address() {
    return address;
  }

  /**
   * The store for one look; close it.
   *
   * @throws LogbookException if it cannot be reached, lets nobody in, is no store or one of another
   *     version
   */
  Logbook look() {
    SqlSession session = waiting().orElseGet(() -> PostgresConnections.forReading(address));
    return new Logbook(session, () -> giveBack(session));
  }

  /** One that waited and still has a server behind it, of the version that is read here. */
  private Optional<SqlSession> waiting() {
    for (Optional<SqlSession> next = poll(); next.isPresent(); next = poll()) {
      try {
        StoreVersion.check(next.get(), new PostgresStore(address));
        return next;
      } catch (LogbookException e) {
        discard(next.get()); // A new connection tells better what is wrong, if anything is.
      }
    }
    return Optional.empty();
  }

  private synchronized Optional<SqlSession> poll() {
    return Optional.ofNullable(idle.poll());
  }

  private void giveBack(SqlSession session) {
    if (ended(session) && keep(session)) {
      return;
    }
    discard(session);
  }

  /** Whether what it saw is given up, so that the next look sees what was published since. */
  private static boolean ended(SqlSession session) {
    try {
      session.engine().rollBack(session.connection());
      return !session.connection().isClosed();
    } catch (SQLException e) {
      return false;
    }
  }

  private synchronized boolean keep(SqlSession session) {
    return idle.size() < MOST_IDLE && idle.offerFirst(session);
  }

  private static void discard(SqlSession session) {
    try {
      session.close();
    } catch (LogbookException e) {
      // Its server went away, and nothing of it is needed any more.
    }
  }
}
