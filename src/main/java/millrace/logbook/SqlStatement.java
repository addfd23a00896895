// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;

/**
 * A prepared statement of an engine. Single-threaded; close it where it is not kept, and what it
 * answered before.
 *
 * @param engine whose it is
 * @param text its SQL as the engine reads it
 * @param jdbc the statement
 * @param end what becomes of it when it is closed
 */
record SqlStatement(SqlEngine engine, SqlText text, PreparedStatement jdbc, End end)
    implements AutoCloseable {

  /** Closes a statement, or keeps it for the next who wants the same. */
  interface End {
    void of(SqlStatement statement) throws SQLException;
  }

  /** Its question marks, from the first. */
  StatementParameters slots() {
    return new StatementParameters(engine, text.places(), jdbc);
  }

  ResultSet query() throws SQLException {
    return jdbc.executeQuery();
  }

  @Override
  public void close() throws SQLException {
    end.of(this);
  }
}
