// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.fault.LogbookException;
import org.jspecify.annotations.Nullable;

/**
 * Goes through the readings of a run, ordered by point and number, without an object for each: call
 * {@link #next}, then read the values of the present reading. Single-threaded; close it.
 */
public final class ReadingCursor implements AutoCloseable {
  /**
   * Each column costs a call into the library. The first column therefore packs what is needed of
   * most readings: number of the channel, code of the state, and which of the other columns are
   * present.
   */
  private static final String COLUMNS =
      "SELECT (r.channel_id << 12) + (r.state << 8) + CAST(r.value IS NOT NULL AS INTEGER)"
          + " + CAST(r.zero IS NOT NULL AS INTEGER) * 2"
          + " + CAST(r.clock IS NOT NULL AS INTEGER) * 4"
          + " + CAST(r.elapsed IS NOT NULL AS INTEGER) * 8"
          + " + CAST(r.u IS NOT NULL AS INTEGER) * 16"
          + " + CAST(r.u_common IS NOT NULL AS INTEGER) * 32"
          + " + CAST(r.u_common_relative IS NOT NULL AS INTEGER) * 64"
          + " + CAST(r.common_group_id IS NOT NULL AS INTEGER) * 128,"
          + " r.value, r.zero, r.clock, r.elapsed, r.u, r.u_common, r.u_common_relative,"
          + " r.common_group_id, p.number, r.raw, r.extra"
          + PointSqlRows.WITH_READINGS;

  static final String ORDER = " ORDER BY p.number, r.number";

  private static final int STATE_BITS = 8;
  private static final int CHANNEL_BITS = 12;

  private static final int SHAPE = 1;
  private static final int VALUE = 2;
  private static final int ZERO = 3;
  private static final int TAKEN_AT = 4;
  private static final int ELAPSED = 5;
  private static final int U = 6;
  private static final int U_COMMON = 7;
  private static final int U_COMMON_RELATIVE = 8;
  private static final int GROUP = 9;
  private static final int POINT = 10;
  private static final int RAW = 11;
  private static final int EXTRA = 12;

  private final SqlSession session;
  private final SqlStatement statement;
  private final ResultSet answer;
  private final ReadingChannels channels;
  private final RunStartNanos start;
  private boolean closed;
  private long shape;
  private long channelId;
  private ReadingChannels.@Nullable Channel channel;

  ReadingCursor(SqlSession session, SqlStatement statement, long run) throws SQLException {
    this.session = session;
    this.statement = statement;
    this.answer = statement.query();
    this.channels = new ReadingChannels(session, run);
    this.start = new RunStartNanos(session, run);
  }

  /** The question for some of the readings of a run, whose number fills its first place. */
  static SqlStatement asking(SqlSession session, String which) throws SQLException {
    boolean file = session.engine().store().isEmpty();
    String columns = file ? COLUMNS : COLUMNS.replace("r.clock", "r.taken_at");
    return session.fresh(columns + which);
  }

  private double number(int column) {
    if (!has(column)) {
      throw new IllegalStateException("asked for a number that this reading does not have");
    }
    try {
      double value = answer.getDouble(column);
      if (!Double.isFinite(value)) {
        throw session.engine().foreign(new IllegalArgumentException("a reading of " + value));
      }
      return value;
    } catch (SQLException e) {
      throw trouble(e);
    }
  }

  private OptionalDouble maybe(int column) {
    return has(column) ? OptionalDouble.of(number(column)) : OptionalDouble.empty();
  }

  private boolean has(int column) {
    return (shape >> (column - VALUE) & 1) == 1;
  }

  private long time(int column) {
    if (!has(column)) {
      throw new IllegalStateException("asked for a time that this reading does not have");
    }
    return whole(column);
  }

  private long whole(int column) {
    try {
      return answer.getLong(column);
    } catch (SQLException e) {
      throw trouble(e);
    }
  }

  private @Nullable String text(int column) {
    try {
      String text = answer.getString(column);
      return text == null ? null : session.engine().read(text);
    } catch (SQLException e) {
      throw trouble(e);
    }
  }

  private LogbookException trouble(SQLException e) {
    return session.error("reading the readings of a run", e);
  }

  /**
   * Steps to the next reading.
   *
   * @return false if there is none
   */
  public boolean next() {
    try {
      boolean more = answer.next();
      shape = more ? answer.getLong(SHAPE) : 0;
      stand(more);
      return more;
    } catch (SQLException e) {
      throw trouble(e);
    }
  }

  private void stand(boolean more) throws SQLException {
    long id = shape >> CHANNEL_BITS;
    if (!more) {
      channel = null;
    } else if (channel == null || id != channelId) {
      channel = channels.get(id);
    }
    channelId = id;
  }

  private ReadingChannels.Channel channel() {
    if (channel == null) {
      throw new IllegalStateException("the cursor does not stand on a reading");
    }
    return channel;
  }

  /**
   * Which point it belongs to.
   *
   * @return the number of the point, as in {@link millrace.evidence.Point#id}
   */
  public long point() {
    return whole(POINT);
  }

  /**
   * What it measures.
   *
   * @return the signal
   */
  public MeasuredSignal signal() {
    return channel().signal();
  }

  /**
   * The instrument it came from.
   *
   * @return the name in the bench file; {@code elsewhere} for imported readings
   */
  public String instrument() {
    return channel().instrument();
  }

  /**
   * What kind of reply it came from.
   *
   * @return the state
   */
  public ReadingState state() {
    return ReadingSqlRows.state((int) (shape >> STATE_BITS) & 0xf);
  }

  /**
   * Tells whether there is a number.
   *
   * @return true for the states number and suspect
   */
  public boolean hasValue() {
    return has(VALUE);
  }

  /**
   * The number as read.
   *
   * @return in the base unit of the signal
   * @throws IllegalStateException if there is none
   */
  public double value() {
    return number(VALUE);
  }

  /**
   * The zero that is to be subtracted.
   *
   * @return in the base unit of the signal; empty where none was taken
   */
  public OptionalDouble zero() {
    return maybe(ZERO);
  }

  /**
   * The reply as received.
   *
   * @return the text
   */
  public String raw() {
    try {
      if (answer.getObject(RAW) instanceof Number format) {
        return ReplyFormat.print(format.intValue(), value());
      }
    } catch (SQLException e) {
      throw trouble(e);
    }
    return Objects.requireNonNull(text(RAW));
  }

  /**
   * Tells whether the elapsed time is known: always, except in imports without times.
   *
   * @return true if {@link #elapsedNanos} has an answer
   */
  public boolean hasElapsed() {
    return has(ELAPSED);
  }

  /**
   * Elapsed time of the run.
   *
   * @return nanoseconds; may be negative in imports whose times run backwards
   * @throws IllegalStateException if it is not known
   */
  public long elapsedNanos() {
    return time(ELAPSED);
  }

  /**
   * Tells whether the wall-clock stamp is known: always, except in imports without it.
   *
   * @return true if {@link #takenAtNanos} has an answer
   */
  public boolean hasTakenAt() {
    return has(TAKEN_AT);
  }

  /**
   * Wall-clock stamp.
   *
   * @return nanoseconds since 1970-01-01T00:00:00Z
   * @throws IllegalStateException if it is not known
   */
  public long takenAtNanos() {
    long clock = time(TAKEN_AT);
    try {
      return session.engine().store().isPresent()
          ? clock
          : start.get() + (hasElapsed() ? elapsedNanos() : 0) + clock;
    } catch (SQLException e) {
      throw trouble(e);
    }
  }

  /**
   * Standard uncertainty stated for this reading alone; imports only.
   *
   * @return in the unit of the reading; empty if not stated
   */
  public OptionalDouble u() {
    return maybe(U);
  }

  /**
   * Standard uncertainty stated as fully correlated within {@link #commonGroup}; imports only.
   *
   * @return in the unit of the reading; empty if not stated
   */
  public OptionalDouble uCommon() {
    return maybe(U_COMMON);
  }

  /**
   * Relative standard uncertainty (a gain) fully correlated within {@link #commonGroup}; imports
   * only.
   *
   * @return a ratio; empty if not stated
   */
  public OptionalDouble uCommonRelative() {
    return maybe(U_COMMON_RELATIVE);
  }

  /**
   * The group that shares the common errors; imports only.
   *
   * @return its name; empty if not stated
   */
  public Optional<String> commonGroup() {
    return group().map(ReadingChannels.Group::name).filter(name -> !name.isEmpty());
  }

  /**
   * The meter range stated with the reading; imports only.
   *
   * @return its name; empty if not stated
   */
  public Optional<String> meterRange() {
    return group().flatMap(ReadingChannels.Group::meterRange);
  }

  private Optional<ReadingChannels.Group> group() {
    return has(GROUP) ? Optional.of(channels.group(whole(GROUP))) : Optional.empty();
  }

  /**
   * The other columns of a row of an imported file.
   *
   * @return text by column
   */
  public Map<String, String> extra() {
    String text = text(EXTRA);
    return text == null ? Map.of() : JsonColumnText.map(text);
  }

  /**
   * The reading as a record, for callers that need few of them. Times that are not known (see
   * {@link #hasElapsed}) come out as zero and 1970-01-01.
   *
   * @return the reading
   */
  public Reading reading() {
    return new Reading(
        signal(),
        instrument(),
        state(),
        maybe(VALUE),
        zero(),
        raw(),
        hasTakenAt() ? TimestampNanos.instant(takenAtNanos()) : Instant.EPOCH,
        hasElapsed() ? Duration.ofNanos(elapsedNanos()) : Duration.ZERO);
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
      throw trouble(e);
    }
  }
}
