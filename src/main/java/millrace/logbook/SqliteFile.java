// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import java.util.Optional;
import millrace.fault.LogbookException;

/**
 * A logbook as a file of SQLite.
 *
 * @param file where it lies
 */
record SqliteFile(Path file) implements SqlEngine {
  @Override
  public String name() {
    return file.toString();
  }

  @Override
  public String where() {
    return SqliteErrorText.where(file);
  }

  @Override
  public SqlText text(String sql) {
    return SqlText.ofFile(sql);
  }

  @Override
  public PreparedStatement streaming(Connection connection, String sql) throws SQLException {
    return connection.prepareStatement(sql);
  }

  @Override
  public void begin(Connection connection) throws SQLException {
    execute(connection, "BEGIN IMMEDIATE");
  }

  /** Otherwise each question locks the file, and asks whether its log has grown. */
  @Override
  public void beginReading(Connection connection) throws SQLException {
    execute(connection, "BEGIN DEFERRED");
  }

  @Override
  public void endReading(Connection connection) throws SQLException {
    rollBack(connection);
  }

  @Override
  public void commit(Connection connection) throws SQLException {
    execute(connection, "COMMIT");
  }

  /** SQLite may have rolled back by itself, which is fine. */
  @Override
  public void rollBack(Connection connection) throws SQLException {
    try {
      execute(connection, "ROLLBACK");
    } catch (SQLException e) {
      if (!String.valueOf(e.getMessage()).contains("no transaction is active")) {
        throw e;
      }
    }
  }

  private static void execute(Connection connection, String sql) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.executeUpdate(sql);
    }
  }

  @Override
  public String lastNumber() {
    return "SELECT last_insert_rowid()";
  }

  /** One transaction that writes has the whole file. */
  @Override
  public Optional<String> lock() {
    return Optional.empty();
  }

  @Override
  public List<String> checks(int most) {
    return List.of(
        "PRAGMA integrity_check(" + most + ")",
        "SELECT 'A row of table ' || \"table\" || ' refers to one that is not there.'"
            + " FROM pragma_foreign_key_check");
  }

  @Override
  public LogbookException error(String attempt, SQLException cause) {
    return SqliteErrorText.of(file, attempt, cause);
  }
}
