// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.DateTimeException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.Function;
import millrace.fault.LogbookException;

/**
 * A connection with its transactions: it commits or rolls back, caches prepared statements, and
 * converts SQL errors into {@link LogbookException}. A transaction inside another joins it. Locks
 * itself, so that several runs written by one process do not mix.
 */
final class SqlSession implements AutoCloseable {

  /** What is done inside a transaction or a query. */
  interface Work<T> {
    T run() throws SQLException;
  }

  /** Work without a result. */
  interface Act {
    void run() throws SQLException;
  }

  /** Fills the question marks of a statement. */
  interface Filling {
    void into(StatementParameters slots) throws SQLException;
  }

  /** Makes a value of a row. */
  interface Mapper<T> {
    T map(SqlQueryRow row) throws SQLException;
  }

  private final SqlEngine engine;
  private final Connection connection;
  private final ReentrantLock lock = new ReentrantLock();
  private final Map<String, SqlStatement> prepared = new HashMap<>();
  private final IdleStatements idle = new IdleStatements();
  private final RepeatedTexts texts = new RepeatedTexts();
  private Optional<LogbookFileIdentity> whereabouts = Optional.empty();
  private Optional<LogbookFileIdentity.Fate> lost = Optional.empty();
  private int depth;
  private boolean unchanging;
  private boolean temporary;
  private boolean broken;
  private long rollBacks;

  SqlSession(SqlEngine engine, Connection connection) {
    this.engine = engine;
    this.connection = connection;
  }

  SqlEngine engine() {
    return engine;
  }

  Connection connection() {
    return connection;
  }

  /** The file of a logbook; what asks a store for one is refused. */
  Path path() {
    return engine.file();
  }

  /**
   * After an error no statement that waits is used again: the driver of SQLite may have closed it.
   */
  LogbookException error(String attempt, SQLException cause) {
    try {
      idle.forget();
    } catch (SQLException e) {
      cause.addSuppressed(e);
    }
    return engine.error(attempt, cause);
  }

  /**
   * From now on nothing is committed if another file has taken the place of this one.
   *
   * @param identity which logbook this is
   * @param reader asks a file which logbook it is
   */
  void watch(String identity, Function<Path, Optional<String>> reader) {
    whereabouts = LogbookFileIdentity.of(path(), identity, reader);
  }

  /** Whether the file that was opened is still where it was. */
  boolean isInPlace() {
    return lost.isEmpty()
        && whereabouts.filter(w -> w.now() != LogbookFileIdentity.Fate.THERE).isEmpty();
  }

  private void refuseElsewhere() throws SQLException {
    if (whereabouts.isEmpty()) {
      return;
    }
    LogbookFileIdentity.Fate fate = lost.orElseGet(whereabouts.get()::now);
    if (fate == LogbookFileIdentity.Fate.THERE) {
      return;
    }
    rollBack();
    if (lost.isEmpty()) {
      lost = Optional.of(fate); // permanently: writes in the meantime are missing
      leaveAlone(fate);
    }
    throw whereabouts.get().trouble(fate);
  }

  /**
   * Checkpoints the write-ahead log into the moved file, so that no log is left beside the new one;
   * not if this file itself was overwritten.
   */
  private void leaveAlone(LogbookFileIdentity.Fate fate) throws SQLException {
    if (fate == LogbookFileIdentity.Fate.OVERWRITTEN) {
      whereabouts.orElseThrow().putLogAside();
    } else {
      one("PRAGMA wal_checkpoint(TRUNCATE)", slots -> {}, SqlQueryRow::whole);
    }
  }

  /** Does all of the work or none of it. */
  <T> T transaction(String attempt, Work<T> work) {
    lock.lock();
    try {
      enter(attempt);
      boolean done = false;
      try {
        T answer = work.run();
        done = true;
        return answer;
      } finally {
        leave(done);
      }
    } catch (SQLException e) {
      throw error(attempt, e);
    } finally {
      lock.unlock();
    }
  }

  /** Does all of the work or none of it. */
  void transact(String attempt, Act act) {
    transaction(
        attempt,
        () -> {
          act.run();
          return true;
        });
  }

  private void enter(String attempt) throws SQLException {
    if (depth == 0) {
      broken = false;
      begin();
    } else if (broken) {
      throw engine.refusal(
          "an earlier change failed, so this one is not made: " + attempt, "See above.");
    }
    depth++;
  }

  private void begin() throws SQLException {
    if (temporary) {
      return;
    }
    try {
      engine.begin(connection);
    } catch (SQLException e) {
      forget();
      throw e;
    }
  }

  private void leave(boolean done) throws SQLException {
    depth--;
    broken |= !done;
    if (depth > 0) {
      return;
    }
    if (broken) {
      rollBack();
    } else {
      commit();
    }
  }

  private void commit() throws SQLException {
    if (temporary) {
      return;
    }
    refuseElsewhere();
    try {
      engine.commit(connection);
    } catch (SQLException e) {
      rollBack();
      throw e;
    }
  }

  /**
   * The driver of SQLite closes a statement that failed: after a full disk no prepared statement
   * can be used again.
   */
  private void rollBack() throws SQLException {
    rollBacks++;
    forget();
    engine.rollBack(connection);
    if (temporary) {
      engine.begin(connection);
    }
  }

  private void forget() throws SQLException {
    for (SqlStatement each : prepared.values()) {
      each.close();
    }
    prepared.clear();
    idle.forget();
  }

  /** Begins a transaction that lasts until {@link #release}; others join it. */
  void hold(String attempt) {
    lock.lock();
    boolean entered = false;
    try {
      enter(attempt);
      entered = true;
    } catch (SQLException e) {
      throw error(attempt, e);
    } finally {
      if (!entered) {
        lock.unlock();
      }
    }
  }

  /** Ends the transaction that {@link #hold} began. */
  void release(String attempt, boolean done) {
    try {
      leave(done);
    } catch (SQLException e) {
      throw error(attempt, e);
    } finally {
      lock.unlock();
    }
  }

  /** From now to the end of the transaction nobody else adds to the run of this UUID. */
  void alone(String uuid) throws SQLException {
    if (engine.lock().isPresent()) {
      one(engine.lock().get(), slots -> slots.text(uuid), row -> true);
    }
  }

  /** How many transactions were rolled back. */
  long rollBacks() {
    return rollBacks;
  }

  boolean insideTransaction() {
    return depth > 0;
  }

  /** Runs a query. */
  <T> T query(String attempt, Work<T> work) {
    lock.lock();
    try {
      return work.run();
    } catch (SQLException e) {
      throw error(attempt, e);
    } finally {
      lock.unlock();
    }
  }

  /**
   * Everything that the work asks for is as it stands at its first question, and each question is
   * answered sooner, since the engine need not look every time whether something changed. Nothing
   * may be written meanwhile.
   */
  <T> T unchanging(String attempt, Work<T> work) {
    lock.lock();
    try {
      if (depth > 0 || unchanging || temporary) {
        return work.run();
      }
      engine.beginReading(connection);
      unchanging = true;
      try {
        return work.run();
      } finally {
        unchanging = false;
        engine.endReading(connection);
      }
    } catch (SQLException e) {
      throw error(attempt, e);
    } finally {
      lock.unlock();
    }
  }

  /** A statement that stays prepared as long as the session. */
  SqlStatement prepare(String sql) throws SQLException {
    SqlStatement known = prepared.get(sql);
    if (known == null) {
      SqlText text = engine.text(sql);
      known =
          new SqlStatement(
              engine, text, connection.prepareStatement(text.sql()), s -> s.jdbc().close());
      prepared.put(sql, known);
    }
    return known;
  }

  /**
   * A statement of its own, for a result that is read while other queries run. Close it: whoever
   * asks the same next takes it over.
   */
  SqlStatement fresh(String sql) throws SQLException {
    Optional<SqlStatement> free = idle.take(sql);
    if (free.isPresent()) {
      return free.get();
    }
    SqlText text = engine.text(sql);
    return new SqlStatement(engine, text, engine.streaming(connection, text.sql()), idle.end(sql));
  }

  /** Runs one statement; answers how many rows it changed. */
  int change(String sql, Filling filling) throws SQLException {
    SqlStatement statement = prepare(sql);
    filling.into(statement.slots());
    return statement.jdbc().executeUpdate();
  }

  /** Adds one row; answers its number. */
  long insert(String sql, Filling filling) throws SQLException {
    change(sql, filling);
    return one(engine.lastNumber(), slots -> {}, SqlQueryRow::whole).orElseThrow();
  }

  <T> List<T> list(String sql, Filling filling, Mapper<T> mapper) throws SQLException {
    SqlStatement statement = prepare(sql);
    filling.into(statement.slots());
    List<T> all = new ArrayList<>();
    try (ResultSet answer = statement.query()) {
      SqlQueryRow row = new SqlQueryRow(engine, answer, texts);
      while (row.next()) {
        all.add(mapped(mapper, row));
      }
    }
    return all;
  }

  <T> Optional<T> one(String sql, Filling filling, Mapper<T> mapper) throws SQLException {
    SqlStatement statement = prepare(sql);
    filling.into(statement.slots());
    try (ResultSet answer = statement.query()) {
      SqlQueryRow row = new SqlQueryRow(engine, answer, texts);
      return row.next() ? Optional.of(mapped(mapper, row)) : Optional.empty();
    }
  }

  /** A value that Millrace cannot read was written by another program. */
  <T> T mapped(Mapper<T> mapper, SqlQueryRow row) throws SQLException {
    try {
      return mapper.map(row);
    } catch (IllegalArgumentException | DateTimeException e) {
      throw engine.foreign(e);
    }
  }

  /** Runs a script of several statements. */
  void script(String sql) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.executeUpdate(sql);
    }
  }

  /** Whether a row that is added has to find what it refers to; not inside a transaction. */
  void checkReferences(boolean check) {
    query(
        "opening it",
        () -> {
          script("PRAGMA foreign_keys = " + (check ? "ON" : "OFF"));
          return true;
        });
  }

  /**
   * From here on all is one transaction that never ends, for a file that is thrown away. Work that
   * fails takes all of it back.
   */
  void neverCommit() {
    query(
        "opening it",
        () -> {
          engine.begin(connection);
          temporary = true;
          return true;
        });
  }

  boolean isTemporary() {
    return temporary;
  }

  @Override
  public void close() {
    lock.lock();
    try {
      forget();
      if (lost.isEmpty()) {
        // Closing would delete the files beside the path, which may belong to another logbook by
        // now.
        connection.close();
      }
    } catch (SQLException e) {
      throw error("closing it", e);
    } finally {
      lock.unlock();
    }
  }
}
