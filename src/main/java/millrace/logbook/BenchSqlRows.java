// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Rows of the tables {@code instrument} and {@code setup}. */
final class BenchSqlRows {
  private BenchSqlRows() {}

  static void insert(SqlSession session, long run, InstrumentEntry entry) throws SQLException {
    Optional<InstrumentEntry.Certificate> certificate = entry.certificate();
    session.change(
        "INSERT INTO instrument (run_id, name, roles, driver, address, identity, serial,"
            + " laboratory, certificate, calibrated_on, due_on, since_at)"
            + " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        slots -> {
          slots.whole(run).text(entry.name()).text(entry.roles()).text(entry.driver());
          slots.text(entry.address()).text(entry.identity()).text(entry.serial());
          slots.text(certificate.map(InstrumentEntry.Certificate::laboratory));
          slots.text(certificate.map(InstrumentEntry.Certificate::number));
          slots.text(certificate.flatMap(c -> c.calibratedOn()).map(LocalDate::toString));
          slots.text(certificate.flatMap(c -> c.dueOn()).map(LocalDate::toString));
          slots.instant(entry.since());
        });
  }

  static List<InstrumentEntry> instruments(SqlSession session, long run) throws SQLException {
    return session.list(
        "SELECT name, roles, driver, address, identity, serial, laboratory, certificate,"
            + " calibrated_on, due_on, since_at FROM instrument WHERE run_id = ? ORDER BY id",
        slots -> slots.whole(run),
        row -> instrument(row, new Days()));
  }

  /** Those of many runs, whose numbers fill the places; by the number of the run. */
  static Map<Long, List<InstrumentEntry>> instruments(
      SqlSession session, String places, SqlSession.Filling filling) throws SQLException {
    Map<Long, List<InstrumentEntry>> instruments = new HashMap<>();
    Days days = new Days();
    session.list(
        "SELECT run_id, name, roles, driver, address, identity, serial, laboratory, certificate,"
            + " calibrated_on, due_on, since_at FROM instrument WHERE run_id IN ("
            + places
            + ") ORDER BY run_id, id",
        filling,
        row ->
            instruments
                .computeIfAbsent(row.whole(), run -> new ArrayList<>())
                .add(instrument(row, days)));
    return instruments;
  }

  /** Days by their text: instruments of many runs have few. */
  private static final class Days {
    private final Map<String, LocalDate> known = new HashMap<>();

    LocalDate of(String text) {
      return known.computeIfAbsent(text, LocalDate::parse);
    }
  }

  private static InstrumentEntry instrument(SqlQueryRow row, Days days) throws SQLException {
    return new InstrumentEntry(
        row.text(),
        row.text(),
        row.text(),
        row.text(),
        row.text(),
        row.maybeText(),
        certificate(row, days),
        row.instant());
  }

  private static Optional<InstrumentEntry.Certificate> certificate(SqlQueryRow row, Days days)
      throws SQLException {
    Optional<String> laboratory = row.maybeText();
    Optional<String> number = row.maybeText();
    Optional<LocalDate> calibratedOn = row.maybeText().map(days::of);
    Optional<LocalDate> dueOn = row.maybeText().map(days::of);
    return number.map(
        n -> new InstrumentEntry.Certificate(laboratory.orElse(""), n, calibratedOn, dueOn));
  }

  /** The number of a set-up; equal set-ups have the same number. */
  static long setUp(SqlSession session, FixtureSetUp setUp) throws SQLException {
    Optional<Long> there =
        session.one(
            "SELECT id FROM setup WHERE fixture = ? AND cables = ? AND remark = ?",
            slots -> slots.text(setUp.fixture()).text(setUp.cables()).text(setUp.remark()),
            SqlQueryRow::whole);
    return there.isPresent()
        ? there.get()
        : session.insert(
            "INSERT INTO setup (fixture, cables, remark) VALUES (?, ?, ?)",
            slots -> slots.text(setUp.fixture()).text(setUp.cables()).text(setUp.remark()));
  }

  static Optional<FixtureSetUp> setUp(SqlSession session, long number) throws SQLException {
    return session.one(
        "SELECT fixture, cables, remark FROM setup WHERE id = ?",
        slots -> slots.whole(number),
        row -> new FixtureSetUp(row.text(), row.text(), row.text()));
  }
}
