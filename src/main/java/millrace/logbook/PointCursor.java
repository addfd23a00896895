// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Optional;
import millrace.evidence.Point;

/**
 * Points of a run one after another, in the order of taking, beside a {@link ReadingCursor}.
 * Single-threaded; close it.
 */
public final class PointCursor implements AutoCloseable {
  private final SqlSession session;
  private final SqlStatement statement;
  private final ResultSet answer;
  private boolean closed;
  private final SqlQueryRow row;

  PointCursor(SqlSession session, SqlStatement statement) throws SQLException {
    this.session = session;
    this.statement = statement;
    this.answer = statement.query();
    this.row = new SqlQueryRow(session.engine(), answer, new RepeatedTexts());
  }

  /**
   * Steps forward to a point.
   *
   * @param number of the point, larger than that of the last one asked for
   * @return the point
   * @throws IllegalStateException if there is none ahead
   */
  public Point to(long number) {
    try {
      while (row.next()) {
        if (answer.getLong(1) == number) {
          return session.mapped(PointSqlRows::map, row);
        }
      }
    } catch (SQLException e) {
      throw session.error("reading the points of a run", e);
    }
    throw new IllegalStateException("no point " + number + " ahead");
  }

  /**
   * Steps to the next point.
   *
   * @return the point; empty behind the last
   */
  public Optional<Point> next() {
    try {
      return row.next() ? Optional.of(session.mapped(PointSqlRows::map, row)) : Optional.empty();
    } catch (SQLException e) {
      throw session.error("reading the points of a run", e);
    }
  }

  @Override
  public void close() {
    if (closed) {
      return; // Both may be another's by now.
    }
    closed = true;
    try {
      answer.close();
      statement.close();
    } catch (SQLException e) {
      throw session.error("reading the points of a run", e);
    }
  }
}
