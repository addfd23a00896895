// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.evidence.MeasuredSignal;
import millrace.fault.LogbookException;

/** The channels and groups of common errors of one run, by the numbers that readings refer to. */
final class ReadingChannels {

  /** The source of a reading. */
  record Channel(long id, MeasuredSignal signal, String instrument) {}

  /** A group of common errors of imported readings. */
  record Group(long id, String name, Optional<String> meterRange) {}

  private final Map<Long, Channel> channels = new HashMap<>();
  private final Map<Long, Group> groups = new HashMap<>();

  private final SqlSession session;
  private final long run;

  ReadingChannels(SqlSession session, long run) throws SQLException {
    this.session = session;
    this.run = run;
    load();
  }

  private void load() throws SQLException {
    session
        .list(
            "SELECT id, signal, instrument FROM channel WHERE run_id = ?",
            slots -> slots.whole(run),
            row ->
                new Channel(
                    row.whole(),
                    StoredEnumWords.known(MeasuredSignal.class, row.text()),
                    row.text()))
        .forEach(each -> channels.put(each.id(), each));
    session
        .list(
            "SELECT id, name, meter_range FROM common_group WHERE run_id = ?",
            slots -> slots.whole(run),
            row -> new Group(row.whole(), row.text(), row.maybeText()))
        .forEach(each -> groups.put(each.id(), each));
  }

  /** The numbers of the channels of some signals, in order; empty if there are none. */
  static List<Long> numbers(SqlSession session, long run, Collection<MeasuredSignal> signals)
      throws SQLException {
    return new ReadingChannels(session, run)
        .channels.values().stream()
            .filter(each -> signals.contains(each.signal()))
            .map(Channel::id)
            .sorted()
            .toList();
  }

  /** A run that goes on may have added a channel since the others were loaded. */
  Channel get(long id) throws SQLException {
    if (!channels.containsKey(id)) {
      load();
    }
    return Optional.ofNullable(channels.get(id)).orElseThrow(ReadingChannels::dangling);
  }

  Group group(long id) {
    return Optional.ofNullable(groups.get(id)).orElseThrow(ReadingChannels::dangling);
  }

  private static LogbookException dangling() {
    return new LogbookException(
        "a reading refers to a channel that the logbook does not hold; the file is damaged."
            + " Check it with 'millrace show RUN --verify'.");
  }
}
