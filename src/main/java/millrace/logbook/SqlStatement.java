// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;

/**
 * A prepared statement of an engine. Single-threaded; close it where it is not kept.
 *
 * @param engine whose it is
 * @param text its SQL as the engine reads it
 * @param jdbc the statement
 */
record SqlStatement(SqlEngine engine, SqlText text, PreparedStatement jdbc)
    implements AutoCloseable {

  /** Its question marks, from the first. */
  StatementParameters slots() {
    return new StatementParameters(engine, text.places(), jdbc);
  }

  ResultSet query() throws SQLException {
    return jdbc.executeQuery();
  }

  @Override
  public void close() throws SQLException {
    jdbc.close();
  }
}
