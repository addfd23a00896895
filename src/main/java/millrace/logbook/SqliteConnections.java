// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Optional;
import millrace.fault.LogbookException;
import org.sqlite.JDBC;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteErrorCode;

/**
 * The one place that prepares a connection: write-ahead log, synchronous FULL (a commit is on the
 * disk when it returns), foreign keys, a long wait for locks.
 */
final class SqliteConnections {
  /** How long a lock held by another process is waited for, ms. */
  private static final int PATIENCE_MS = 10_000;

  private static final int CACHE_KIB = 16 * 1024;

  private static final String MEMORY = JDBC.PREFIX + ":memory:";

  /** Shows whether a file can be read at all. */
  private static final String FIRST = "SELECT count(*) FROM sqlite_schema";

  private SqliteConnections() {}

  /** Loads the library with its native part, and sets up what it sets up once. */
  static void prepare() throws SQLException {
    try (Connection none = JDBC.createConnection(MEMORY, config().toProperties());
        Statement statement = none.createStatement()) {
      statement.executeQuery(FIRST).close();
    }
  }

  static SqlSession forWriting(Path path) {
    SQLiteConfig config = config();
    config.setJournalMode(SQLiteConfig.JournalMode.WAL);
    config.setSynchronous(SQLiteConfig.SynchronousMode.FULL);
    config.enforceForeignKeys(true);
    try {
      return new SqlSession(new SqliteFile(path), open(path, "", config));
    } catch (SQLException e) {
      throw SqliteErrorText.of(path, "opening it for writing", e);
    }
  }

  /**
   * Opens for reading. In a read-only folder SQLite cannot share memory with a writer; a file with
   * an empty log is then opened as immutable.
   */
  static SqlSession forReading(Path path) {
    SQLiteConfig config = readOnly();
    try {
      return new SqlSession(new SqliteFile(path), open(path, "?mode=ro", config));
    } catch (SQLException e) {
      if (logIsEmpty(path) && !SqliteErrorText.is(e, SQLiteErrorCode.SQLITE_NOTADB)) {
        return asUnchanging(path, config, e);
      }
      throw SqliteErrorText.of(path, "opening it for reading", e);
    }
  }

  private static SqlSession asUnchanging(Path path, SQLiteConfig config, SQLException first) {
    try {
      return new SqlSession(new SqliteFile(path), open(path, "?immutable=1", config));
    } catch (SQLException e) {
      e.addSuppressed(first);
      throw SqliteErrorText.of(path, "opening it for reading", e);
    }
  }

  /** The identity of the logbook in the file itself, without its write-ahead log. */
  static Optional<String> identity(Path path) {
    try (SqlSession raw = asUnchanging(path, readOnly(), new SQLException("not tried"))) {
      return raw.query(
          "asking which logbook it is",
          () -> raw.one("SELECT uuid FROM logbook", slots -> {}, SqlQueryRow::text));
    } catch (LogbookException e) {
      return Optional.empty();
    }
  }

  private static SQLiteConfig readOnly() {
    SQLiteConfig config = config();
    config.setReadOnly(true);
    return config;
  }

  private static boolean logIsEmpty(Path path) {
    return path.resolveSibling(path.getFileName() + "-wal").toFile().length() == 0;
  }

  private static SQLiteConfig config() {
    SQLiteConfig config = new SQLiteConfig();
    config.setBusyTimeout(PATIENCE_MS);
    // Otherwise each INSERT queries its row number and leaves that query open.
    config.setGetGeneratedKeys(false);
    config.setCacheSize(-CACHE_KIB);
    return config;
  }

  private static Connection open(Path path, String options, SQLiteConfig config)
      throws SQLException {
    String address = JDBC.PREFIX + "file:" + encoded(path) + options;
    Connection connection = JDBC.createConnection(address, config.toProperties());
    try (Statement statement = connection.createStatement()) {
      statement.executeQuery(FIRST).close();
      return connection;
    } catch (SQLException e) {
      connection.close();
      throw e;
    }
  }

  /** The address of a file that another connection reads beside its own. */
  static String address(Path path) {
    return "file:" + encoded(path) + "?mode=ro";
  }

  /** A path as SQLite's file addresses want it. */
  private static String encoded(Path path) {
    return path.toAbsolutePath()
        .toString()
        .replace("%", "%25")
        .replace("?", "%3f")
        .replace("#", "%23");
  }
}
