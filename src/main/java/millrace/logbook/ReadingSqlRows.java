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
import java.util.OptionalDouble;
import java.util.stream.Stream;
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
      "INSERT INTO reading (point_id, number, channel_id, state, value, zero, raw, elapsed, clock)"
          + " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)";

  /** Columns of an imported reading of which nothing more is stated. */
  private static final List<String> PLAIN =
      List.of("point_id", "number", "channel_id", "state", "value", "raw", "elapsed", "clock");

  /** Further columns of an imported reading. */
  private static final List<String> STATED =
      List.of("u", "u_common", "u_common_relative", "common_group_id", "extra");

  /** The instrument of imported readings. */
  static final String ELSEWHERE = "elsewhere";

  private static final int BATCH = 1000;

  private static final Map<ReadingState, Integer> CODES = codes();
  private static final Map<Integer, ReadingState> STATES = states();

  private final SqlSession session;
  private final long run;
  private final RunStartNanos start;
  private final WrittenReadingHash hash;
  private final BulkInsert plain;
  private final BulkInsert stated;
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
    this.start = new RunStartNanos(session, run);
    this.hash = new WrittenReadingHash(session, ELSEWHERE, had);
    this.plain = new BulkInsert(session, "reading", PLAIN);
    this.stated =
        new BulkInsert(session, "reading", Stream.concat(PLAIN.stream(), STATED.stream()).toList());
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
      reply(slots, each.raw(), each.value());
      long elapsed = each.elapsed().toNanos();
      slots.whole(elapsed).whole(clock(each.takenAt(), elapsed));
      add(statement, number - had);
    }
    statement.executeBatch();
  }

  /**
   * Adds imported readings to a point of that row and number, numbered on from what it has; they
   * are there once they are {@link #flushed}.
   */
  void insertImported(long point, long nth, long had, List<ImportedReading> readings)
      throws SQLException {
    long number = had;
    for (ImportedReading each : readings) {
      insertImported(point, nth, ++number, each);
    }
  }

  private void insertImported(long point, long nth, long number, ImportedReading reading)
      throws SQLException {
    StatedUncertainty more = reading.stated();
    boolean bare = more.equals(StatedUncertainty.NOTHING) && reading.extra().isEmpty();
    int state = CODES.get(reading.state());
    long channel = channel(reading.signal(), ELSEWHERE);
    String extra = reading.extra().isEmpty() ? null : JsonColumnText.ofMap(reading.extra());
    hash.add(nth, number, reading, state, extra);
    SqlSession.Filling first =
        slots -> {
          slots.whole(point).whole(number).whole(channel).whole(state);
          slots.number(reading.value());
          reply(slots, reading.raw(), reading.value());
          times(slots, reading);
        };
    if (bare) {
      plain.add(first);
      return;
    }
    Optional<Long> group = more.shared() ? Optional.of(group(more)) : Optional.empty();
    stated.add(
        slots -> {
          first.into(slots);
          slots.number(more.u()).number(more.common()).number(more.commonRelative());
          whole(slots, group);
          slots.text(Optional.ofNullable(extra));
        });
  }

  /** Writes the imported readings that wait for more. */
  void flushed() throws SQLException {
    plain.flush();
    stated.flush();
  }

  private static void add(PreparedStatement statement, long count) throws SQLException {
    statement.addBatch();
    if (count % BATCH == 0) {
      statement.executeBatch();
    }
  }

  private static void reply(StatementParameters slots, String raw, OptionalDouble value)
      throws SQLException {
    int format = value.isPresent() ? ReplyFormat.of(raw, value.getAsDouble()) : ReplyFormat.NONE;
    if (format == ReplyFormat.NONE) {
      slots.text(raw);
    } else {
      slots.whole(format);
    }
  }

  private void times(StatementParameters slots, ImportedReading reading) throws SQLException {
    Optional<Long> elapsed = reading.elapsed().map(Duration::toNanos);
    whole(slots, elapsed);
    if (reading.takenAt().isPresent()) {
      slots.whole(clock(reading.takenAt().get(), elapsed.orElse(0L)));
    } else {
      slots.nothing();
    }
  }

  /** What {@link ReadingCursor#takenAtNanos} adds up again. */
  private long clock(Instant takenAt, long elapsed) throws SQLException {
    return TimestampNanos.nanos(takenAt) - start.get() - elapsed;
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
    plain.forget();
    stated.forget();
    channels.clear();
    groups.clear();
  }
}
