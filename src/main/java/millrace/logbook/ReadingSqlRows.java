// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;

/**
 * Adds rows to the table {@code reading} of one run, and to {@code channel} and {@code
 * common_group} where one is met first. Single-threaded.
 */
final class ReadingSqlRows {
  /** What a bench reads. Columns that are left out are empty, and each one bound takes its time. */
  private static final String TAKEN =
      "INSERT INTO reading (point_id, number, channel_id, state, value, zero, raw, taken_at,"
          + " elapsed) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)";

  /** An imported reading of which nothing more is stated. */
  private static final String PLAIN =
      "INSERT INTO reading (point_id, number, channel_id, state, value, raw, taken_at, elapsed)"
          + " VALUES (?, ?, ?, ?, ?, ?, ?, ?)";

  private static final String STATED =
      "INSERT INTO reading (point_id, number, channel_id, state, value, raw, taken_at, elapsed, u,"
          + " u_common, u_common_relative, common_group_id, extra)"
          + " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)";

  /** The instrument of imported readings. */
  static final String ELSEWHERE = "elsewhere";

  private static final int BATCH = 1000;

  private static final Map<ReadingState, Integer> CODES = codes();
  private static final Map<Integer, ReadingState> STATES = states();

  private final SqlSession session;
  private final long run;
  private final WrittenReadingHash hash;
  private final Map<MeasuredSignal, Map<String, Long>> channels =
      new EnumMap<>(MeasuredSignal.class);
  private final Map<Shared, Long> groups = new HashMap<>();

  private record Shared(String name, Optional<String> meterRange) {}

  /**
   * Of one run.
   *
   * @param had whether it has points already
   */
  ReadingSqlRows(SqlSession session, long run, boolean had) {
    this.session = session;
    this.run = run;
    this.hash = new WrittenReadingHash(session, ELSEWHERE, had);
  }

  /** The digest of all readings of the run; empty where only the rows tell it. */
  Optional<String> digest() {
    return hash.hex();
  }

  private static Map<ReadingState, Integer> codes() {
    Map<ReadingState, Integer> codes = new EnumMap<>(ReadingState.class);
    codes.put(ReadingState.NUMBER, 0);
    codes.put(ReadingState.OVERLOAD, 1);
    codes.put(ReadingState.NOT_A_NUMBER, 2);
    codes.put(ReadingState.MALFORMED, 3);
    codes.put(ReadingState.SUSPECT, 4);
    return codes;
  }

  private static Map<Integer, ReadingState> states() {
    Map<Integer, ReadingState> states = new HashMap<>();
    CODES.forEach((state, code) -> states.put(code, state));
    return states;
  }

  /** The state that a code stands for. */
  static ReadingState state(int code) {
    ReadingState known = STATES.get(code);
    return known != null ? known : StoredEnumWords.known(ReadingState.class, String.valueOf(code));
  }

  /** Adds readings to a point, numbered on from what it has. */
  void insert(long point, long had, List<Reading> readings) throws SQLException {
    SqlStatement prepared = session.prepare(TAKEN);
    PreparedStatement statement = prepared.jdbc();
    StatementParameters slots = prepared.slots();
    long number = had;
    hash.unsure();
    for (Reading each : readings) {
      long channel = channel(each.signal(), each.instrument());
      slots.again().whole(point).whole(++number).whole(channel);
      slots.whole(CODES.get(each.state())).number(each.value()).number(each.zero());
      slots.text(each.raw()).instant(each.takenAt()).span(each.elapsed());
      add(statement, number - had);
    }
    statement.executeBatch();
  }

  /** Adds imported readings to a point of that row and number, numbered on from what it has. */
  void insertImported(long point, long nth, long had, List<ImportedReading> readings)
      throws SQLException {
    SqlStatement plain = session.prepare(PLAIN);
    SqlStatement more = session.prepare(STATED);
    long number = had;
    for (ImportedReading each : readings) {
      StatedUncertainty stated = each.stated();
      boolean bare = stated.equals(StatedUncertainty.NOTHING) && each.extra().isEmpty();
      SqlStatement statement = bare ? plain : more;
      StatementParameters slots = statement.slots();
      int state = CODES.get(each.state());
      String extra = each.extra().isEmpty() ? null : JsonColumnText.ofMap(each.extra());
      slots.again().whole(point).whole(++number).whole(channel(each.signal(), ELSEWHERE));
      slots.whole(state).number(each.value()).text(each.raw());
      instant(slots, each.takenAt());
      span(slots, each.elapsed());
      if (!bare) {
        slots.number(stated.u()).number(stated.common()).number(stated.commonRelative());
        whole(slots, stated.shared() ? Optional.of(group(stated)) : Optional.empty());
        slots.text(Optional.ofNullable(extra));
      }
      hash.add(nth, number, each, state, extra);
      add(statement.jdbc(), number - had);
    }
    plain.jdbc().executeBatch();
    more.jdbc().executeBatch();
  }

  private static void add(PreparedStatement statement, long count) throws SQLException {
    statement.addBatch();
    if (count % BATCH == 0) {
      statement.executeBatch();
    }
  }

  private static void instant(StatementParameters slots, Optional<Instant> value)
      throws SQLException {
    if (value.isPresent()) {
      slots.instant(value.get());
    } else {
      slots.nothing();
    }
  }

  private static void span(StatementParameters slots, Optional<Duration> value)
      throws SQLException {
    if (value.isPresent()) {
      slots.span(value.get());
    } else {
      slots.nothing();
    }
  }

  private static void whole(StatementParameters slots, Optional<Long> value) throws SQLException {
    if (value.isPresent()) {
      slots.whole(value.get());
    } else {
      slots.nothing();
    }
  }

  private long channel(MeasuredSignal signal, String instrument) throws SQLException {
    Map<String, Long> known = channels.computeIfAbsent(signal, s -> new HashMap<>());
    Long id = known.get(instrument);
    if (id == null) {
      id = channelRow(signal, instrument);
      known.put(instrument, id);
    }
    return id;
  }

  private long channelRow(MeasuredSignal signal, String instrument) throws SQLException {
    Optional<Long> there =
        session.one(
            "SELECT id FROM channel WHERE run_id = ? AND signal = ? AND instrument = ?",
            slots -> slots.whole(run).text(signal.text()).text(instrument),
            SqlQueryRow::whole);
    return there.isPresent()
        ? there.get()
        : session.insert(
            "INSERT INTO channel (run_id, signal, instrument) VALUES (?, ?, ?)",
            slots -> slots.whole(run).text(signal.text()).text(instrument));
  }

  private long group(StatedUncertainty stated) throws SQLException {
    Shared shared = new Shared(stated.group().orElse(""), stated.meterRange());
    Long id = groups.get(shared);
    if (id == null) {
      id = groupRow(shared);
      groups.put(shared, id);
    }
    return id;
  }

  private long groupRow(Shared shared) throws SQLException {
    Optional<Long> there =
        session.one(
            "SELECT id FROM common_group WHERE run_id = ? AND name = ? AND meter_range IS ?",
            slots -> slots.whole(run).text(shared.name()).text(shared.meterRange()),
            SqlQueryRow::whole);
    return there.isPresent()
        ? there.get()
        : session.insert(
            "INSERT INTO common_group (run_id, name, meter_range) VALUES (?, ?, ?)",
            slots -> slots.whole(run).text(shared.name()).text(shared.meterRange()));
  }

  /** Drops cached numbers of a transaction that was rolled back. */
  void forget() {
    channels.clear();
    groups.clear();
  }
}
