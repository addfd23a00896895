// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import java.util.Optional;
import millrace.PostgresServer;
import millrace.logbook.BenchRuns;
import millrace.logbook.BenchmarkedTime;
import millrace.logbook.JudgedRun;
import millrace.logbook.JudgedRunReader;
import millrace.logbook.Logbook;
import millrace.logbook.RunFilter;
import millrace.logbook.SharedStore;
import millrace.logbook.StoreAddress;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * How fast questions to a store of many runs are answered, beside plain SQL of the same. The runs
 * are one board test, many times with other values: they were never published, and are only read.
 * Figures go to a file: no time is asserted.
 */
class StoreQuestionBenchmarkIT {
  private static final String SCATTER = "(1 + 1e-6 * (random() + random() + random() - 1.5))";

  private static final String RESULT =
      "quantity, \"range\", at, kind, value, missing, n, standard_uncertainty,"
          + " expanded_uncertainty, lower, upper, coverage, coverage_factor, degrees_of_freedom,"
          + " ppm_base, limit_lower, limit_upper, decision_rule, guard_factor, conformity, tur,"
          + " probability_of_conformity, limit_when, covers, risk, method, notes";

  /** The last judgings of the runs of a batch, as often as results. */
  private static final String LAST =
      " FROM run u JOIN evaluation e ON e.id = (SELECT y.id FROM evaluation y WHERE y.run_id = u.id"
          + " ORDER BY y.made_at DESC, y.id DESC LIMIT 1) JOIN result r ON r.evaluation_id = e.id"
          + " AND r.month = u.month AND r.run_uuid = u.run_uuid ";

  private static final String SUMS =
      "SELECT r.quantity, r.\"range\", r.at, count(*), avg(r.value), stddev(r.value), min(r.value),"
          + " max(r.value), count(*) FILTER (WHERE r.conformity = 'pass'),"
          + " count(*) FILTER (WHERE r.conformity = 'fail')"
          + LAST
          + "WHERE u.batch = 'B1' GROUP BY r.quantity, r.\"range\", r.at";

  private static final String OF_UNIT =
      "SELECT u.id, " + ("r." + RESULT.replace(", ", ", r.")) + LAST + "WHERE u.unit = ?";

  private final PostgresServer server = PostgresServer.get();
  @TempDir private Path folder;

  /** A store with so many runs of batch B1, and others until it has so many results. */
  private String store(int runs, int results) {
    String book = folder.resolve("a.db").toString();
    Spoken shift =
        Spoken.typing(
            "FX3-00001\nend\n",
            "production",
            "sequences/production-board-test.yaml",
            "--datasheet",
            "examples/fx-3.datasheet.yaml",
            "--simulated",
            "--operator",
            "Ada",
            "--shift",
            "early",
            "--logbook",
            book);
    assertTrue(shift.code() < 2, shift.err());
    BenchRuns.asIfReal(Path.of(book));
    String store = server.store();
    Spoken.done("publish", "1", "--to", store, "--logbook", book);
    int each = Integer.parseInt(sql(store, "SELECT count(*) FROM result"));
    multiply(store, runs, Math.max(runs, (results + each - 1) / each));
    return store;
  }

  private String sql(String store, String sql) {
    return server
        .sql(store.replaceAll(".*/|[?].*", ""), "SET search_path = millrace; " + sql)
        .strip();
  }

  private void multiply(String store, int inBatch, int all) {
    sql(
        store,
        // Hours of runs may reach into the next month, whose tables have to be there.
        "SELECT open_month(CAST(date_trunc('month', now() + INTERVAL '1 month') AS DATE));INSERT"
            + " INTO run (uuid, unit, origin, title, operator, batch, tag, millrace, started_at,"
            + " utc_offset_s, setup_id, state, ended_at, remark, digest) SELECT"
            + " CAST(gen_random_uuid() AS TEXT), 'U' || i, origin, title, operator, CASE WHEN i <= "
            + inBatch
            + " THEN 'B1' ELSE 'B2' END, tag, millrace, started_at + 1000000000 * CAST(i AS"
            + " BIGINT), utc_offset_s, setup_id, state, ended_at, remark, digest FROM run,"
            + " generate_series(1, "
            + all
            + ") AS i WHERE id = 1;"
            + copy("fact", "name, value")
            + copy("run_file", "file_id, role, name")
            + copy(
                "instrument",
                "name, roles, driver, address, identity, serial, laboratory, certificate,"
                    + " calibrated_on, due_on, since_at")
            + copy(
                "evaluation",
                "basis, made_at, millrace, datasheet_file_id, reference_temperature_degC, type_run,"
                    + " bin, reason")
            + "INSERT INTO point (month, run_uuid, run_id, id, number, place, part, key, kind,"
            + " \"range\", nominal_A, visit, state, reason, started, ended, settings) SELECT"
            + " u.month, u.run_uuid, u.id, t.id, t.number, t.place, t.part, t.key, t.kind,"
            + " t.\"range\", t.nominal_A, t.visit, t.state, t.reason, t.started, t.ended,"
            + " t.settings FROM point t, run u WHERE t.run_id = 1 AND u.id > 1;INSERT INTO result"
            + " (month, run_uuid, evaluation_id, "
            + RESULT
            + ") SELECT u.month, u.run_uuid, e.id, "
            + ("t." + RESULT.replace(", ", ", t.")).replace("t.value", "t.value * " + SCATTER)
            + " FROM run u JOIN evaluation e ON e.run_id = u.id, result t WHERE t.evaluation_id ="
            + " (SELECT max(id) FROM evaluation WHERE run_id = 1) AND u.id > 1; ANALYZE");
  }

  private static String copy(String table, String columns) {
    String all = "t." + columns.replace(", ", ", t.");
    return "INSERT INTO %s (run_id, %s) SELECT u.id, %s FROM %s t, run u WHERE t.run_id = 1 AND u.id > 1 ORDER BY u.id;"
        .formatted(table, columns, all, table);
  }

  private void measure(int runs, int results, int units, int times)
      throws SQLException, IOException {
    String store = store(runs, results);
    String size = sql(store, "SELECT count(*) || ' results' FROM result");
    BenchmarkedTime compared = new BenchmarkedTime(server::processorS);
    BenchmarkedTime summed = new BenchmarkedTime(server::processorS);
    BenchmarkedTime read = new BenchmarkedTime(server::processorS);
    BenchmarkedTime selected = new BenchmarkedTime(server::processorS);
    try (Connection plain = DriverManager.getConnection(store + "&currentSchema=millrace&jit=off");
        Logbook book = SharedStore.logbook(StoreAddress.of(store))) {
      plain.setAutoCommit(false);
      for (int i = 0; i < times; i++) {
        compared.add(() -> compare(store, runs));
        summed.add(() -> sums(plain));
        int block = i;
        read.add(() -> units(book, block * units, units));
        selected.add(() -> plainUnits(plain, block * units, units));
      }
    }
    Files.writeString(
        Files.createDirectories(Path.of("target", "benchmarks"))
            .resolve("questions-%s.txt".formatted(runs)),
        "a store of %s; each in turn, %s times%n".formatted(size, times)
            + "compare of %s runs: %s%n".formatted(runs, compared)
            + "plain SQL of its sums: %s%n".formatted(summed)
            + "comparing takes %s of the sums%n".formatted(compared.over(summed))
            + "results of %s units, one by one: %s%n".formatted(units, read)
            + "plain SQL of the same: %s%n".formatted(selected)
            + "reading takes %s of plain SQL%n".formatted(read.over(selected)));
  }

  private static void compare(String store, int runs) {
    Spoken said = Spoken.by("compare", "--batch", "B1", "--from", store);
    assertTrue(said.code() < 2, said.err());
    assertTrue(said.out().contains(String.valueOf(runs)), said.out());
  }

  private static void sums(Connection plain) throws SQLException {
    try (Statement statement = plain.createStatement();
        ResultSet answer = statement.executeQuery(SUMS)) {
      assertTrue(answer.next());
    }
  }

  private static void units(Logbook book, int from, int count) {
    for (int i = from; i < from + count; i++) {
      RunFilter unit = RunFilter.ALL.ofUnit(Optional.of("U" + (i + 1)));
      List<JudgedRun> runs = new JudgedRunReader(book).of(book.runs(unit));
      assertEquals(1, runs.size());
      assertTrue(!runs.get(0).results().isEmpty());
    }
  }

  private static void plainUnits(Connection plain, int from, int count) throws SQLException {
    try (PreparedStatement statement = plain.prepareStatement(OF_UNIT)) {
      int columns = statement.getMetaData().getColumnCount();
      for (int i = from; i < from + count; i++) {
        statement.setString(1, "U" + (i + 1));
        try (ResultSet answer = statement.executeQuery()) {
          int read = 0;
          while (answer.next()) {
            for (int column = 1; column <= columns; column++) {
              read += answer.getObject(column) == null ? 0 : 1;
            }
          }
          assertTrue(read > 0);
        }
      }
    }
  }

  @Test
  @Timeout(300)
  void questionsToAFewRuns() throws SQLException, IOException {
    measure(20, 0, 2, 1);
  }

  @Test
  @Tag("campaign")
  @Timeout(3600)
  void questionsToManyRuns() throws SQLException, IOException {
    measure(
        Integer.getInteger("millrace.store.compared", 10_000),
        Integer.getInteger("millrace.store.results", 1_000_000),
        100,
        Integer.getInteger("millrace.store.times", 5));
  }
}
