// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.Optional;
import millrace.fault.LogbookException;

/**
 * What a database does in a way of its own: where it lies, how its transactions begin, how it words
 * its errors. Everything else is one set of SQL for both of them. Where a store needs more than a
 * file, the SQL holds that as a comment which begins with {@code /*store}: a file skips it, a store
 * reads it. A column that only a store has stands behind a comment which begins with {@code
 * /*file}: a file reads the comment in its place. Stateless.
 */
interface SqlEngine {
  /** As it was named on the command line, without a password. */
  String name();

  /** As a sentence names it. */
  String where();

  /** The file; a store has none, and what needs one is refused. */
  Path file();

  /** Its address; empty for a file. */
  default Optional<StoreAddress> store() {
    return Optional.empty();
  }

  /** The SQL as this engine reads it. */
  default SqlText text(String sql) {
    return SqlText.plain(sql);
  }

  /** A statement for a result that may be long. */
  PreparedStatement streaming(Connection connection, String sql) throws SQLException;

  void begin(Connection connection) throws SQLException;

  /** What is read from now on is as it stands at the first question. A store always reads so. */
  default void beginReading(Connection connection) throws SQLException {}

  /** Ends that. */
  default void endReading(Connection connection) throws SQLException {}

  void commit(Connection connection) throws SQLException;

  void rollBack(Connection connection) throws SQLException;

  /** What answers the number of the row that was added last. */
  String lastNumber();

  /**
   * What keeps others from adding to a run, whose UUID fills its place, from now to the end of the
   * transaction; empty where a transaction does so by itself.
   */
  Optional<String> lock();

  /** Questions about the database as a whole; what they answer are faults, in sentences. */
  List<String> checks(int most);

  /** A text as it is kept. */
  default String kept(String text) {
    return text;
  }

  /** Whether the bytes of a column of an answer are those of its text, in UTF-8. */
  default boolean givesUtf8(ResultSet answer, int column) throws SQLException {
    return false;
  }

  /** A text as it was before it was kept. */
  default String read(String kept) {
    return kept;
  }

  /** The error of an attempt, as in 'while' + attempt. */
  LogbookException error(String attempt, SQLException cause);

  /** Why something is refused here. */
  default LogbookException refusal(String found, String remedy) {
    return new LogbookException(where() + ": " + found + ". " + remedy);
  }

  /** The error if a row holds what Millrace never writes. */
  default LogbookException foreign(RuntimeException e) {
    return new LogbookException(
        "%s: it holds a value that Millrace never writes (%s), so something else changed it. 'millrace show RUN --verify' tells which part of a run does not fit; work on with a backup."
            .formatted(where(), e.getMessage()),
        e);
  }
}
