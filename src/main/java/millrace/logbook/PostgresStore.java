// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.util.List;
import java.util.Optional;
import millrace.fault.LogbookException;

/**
 * A store on a PostgreSQL server.
 *
 * @param address where it is
 */
record PostgresStore(StoreAddress address) implements SqlEngine {
  /** Rows that are fetched at once of a long result. */
  private static final int FETCH = 5000;

  /** Stands before the code of a character that PostgreSQL keeps in no text, and of itself. */
  private static final char MARK = '\uE000';

  @Override
  public String name() {
    return address.shown();
  }

  @Override
  public String where() {
    return "store '" + address.shown() + "'";
  }

  @Override
  public Path file() {
    throw refusal(
        "it only takes whole runs, and is only read", "Do this in the logbook of the bench.");
  }

  @Override
  public Optional<StoreAddress> store() {
    return Optional.of(address);
  }

  @Override
  public SqlText text(String sql) {
    return SqlText.ofStore(sql);
  }

  @Override
  public PreparedStatement streaming(Connection connection, String sql) throws SQLException {
    PreparedStatement statement = connection.prepareStatement(sql);
    statement.setFetchSize(FETCH);
    return statement;
  }

  /** What was only read until now is ended; the driver begins with the next statement. */
  @Override
  public void begin(Connection connection) throws SQLException {
    connection.commit();
  }

  @Override
  public void commit(Connection connection) throws SQLException {
    connection.commit();
  }

  @Override
  public void rollBack(Connection connection) throws SQLException {
    if (!connection.isClosed()) {
      connection.rollback();
    }
  }

  @Override
  public String lastNumber() {
    return "SELECT lastval()";
  }

  @Override
  public Optional<String> lock() {
    return Optional.of("SELECT pg_advisory_xact_lock(hashtextextended(?, 0))");
  }

  @Override
  public List<String> checks(int most) {
    return List.of();
  }

  /** A text of PostgreSQL holds every character but U+0000, which a malformed reply may hold. */
  @Override
  public String kept(String text) {
    return text.indexOf('\0') < 0 && text.indexOf(MARK) < 0
        ? text
        : text.replace(String.valueOf(MARK), MARK + "1").replace("\0", MARK + "0");
  }

  /** The driver hands out the bytes of a text as they came, without a copy. */
  @Override
  public boolean givesUtf8(ResultSet answer, int column) throws SQLException {
    return answer.getMetaData().getColumnType(column) == Types.VARCHAR;
  }

  @Override
  public String read(String kept) {
    return kept.indexOf(MARK) < 0
        ? kept
        : kept.replace(MARK + "0", "\0").replace(MARK + "1", String.valueOf(MARK));
  }

  @Override
  public LogbookException error(String attempt, SQLException cause) {
    return PostgresErrorText.of(this, attempt, cause);
  }
}
