// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import millrace.PostgresServer;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.evidence.RunOrigin;
import millrace.fault.BadInputException;
import millrace.fault.LogbookException;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.RegisterExtension;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Runs that are published to a store on a real server, and what the store then holds. */
class SharedStoreIT {
  @RegisterExtension final OpenBook open = new OpenBook();
  private PostgresServer server = PostgresServer.get();
  private String database = "";

  @BeforeEach
  void make() {
    database = server.store();
  }

  private StoreAddress address() {
    return StoreAddress.of(database);
  }

  private String name() {
    return database.replaceAll(".*/|[?].*", "");
  }

  private Logbook book() {
    return open.logbook();
  }

  private static RunStart start(String unit, RunOrigin origin, Instant at) {
    RunStart s = Sample.start(unit);
    Optional<RunStart.Simulation> simulation =
        origin == RunOrigin.SIMULATED
            ? Optional.of(new RunStart.Simulation(1, true))
            : Optional.empty();
    return new RunStart(
        unit,
        origin,
        s.title(),
        s.people(),
        simulation,
        s.millrace(),
        at,
        ZoneOffset.UTC,
        s.facts());
  }

  private RunSummary run(String unit, RunOrigin origin, Instant at) {
    try (RunWriter writer = book().begin(start(unit, origin, at))) {
      writer.file(FileRole.DATASHEET, "bx5.yaml", new byte[] {1, 0, 3, (byte) 0xff});
      writer.setUp(new FixtureSetUp("fixture 1", "cables\t1", "a\\b"));
      for (int i = 0; i < 3; i++) {
        List<Reading> readings = new ArrayList<>(Sample.readings(4));
        readings.add(malformed("\u0000+1.0\tE\\N-3\r\n\uE000 \u00b5A"));
        writer.commit(
            Sample.point("p" + i, PointState.COMPLETE),
            readings,
            List.of(Sample.incident("again")));
      }
      writer.end(RunState.COMPLETE, "", at.plusSeconds(60));
    }
    List<RunSummary> all = book().runs(RunFilter.ALL);
    return all.get(all.size() - 1);
  }

  private RunSummary run(String unit) {
    return run(unit, RunOrigin.BENCH, Sample.START);
  }

  private static Reading malformed(String raw) {
    return new Reading(
        MeasuredSignal.CURRENT,
        "dmm1",
        ReadingState.MALFORMED,
        OptionalDouble.empty(),
        OptionalDouble.of(-0.0),
        raw,
        Sample.START,
        java.time.Duration.ZERO);
  }

  private static Remark remark(String text) {
    return new Remark(RemarkKind.REMARK, OptionalLong.empty(), text, "Ada", Sample.START);
  }

  private SharedStore.Outcome publish(RunSummary run) {
    try (SharedStore store = SharedStore.at(address())) {
      return store.publish(book(), run);
    }
  }

  private String refused(RunSummary run) {
    return assertThrows(LogbookException.class, () -> publish(run)).getMessage();
  }

  @Test
  void aRunArrivesWithEveryDigitAndItsSeal() {
    RunSummary run = run("BX5-0001");
    book().add(run.id(), remark("a lead was loose"));

    assertEquals(SharedStore.Outcome.SENT, publish(run));

    try (Logbook there = SharedStore.logbook(address())) {
      RunSummary stored = there.find(run.uuid().toString());
      RunReader mine = book().reader(run.id());
      RunReader other = there.reader(stored.id());
      assertEquals(run.start(), stored.start());
      assertEquals(mine.seal(), other.seal());
      assertEquals(run.digest(), Optional.of(other.digest()));
      assertEquals(mine.points(), other.points());
      notEmpty(mine.points())
          .forEach(p -> assertEquals(mine.readings(p.id()), other.readings(p.id())));
      assertEquals(mine.incidents(), other.incidents());
      assertEquals(mine.remarks(), other.remarks());
      assertEquals(mine.setUp(), other.setUp());
      assertEquals(mine.lastElapsed(), other.lastElapsed());
      assertEquals(mine.pointStates(), other.pointStates());
      assertEquals(mine.readingCount(), other.readingCount());
      assertTrue(there.verify(stored.id()).sound());
    }
  }

  @Test
  void whatIsThereIsNotSentAgainAndWhatWasAddedIs() {
    RunSummary run = run("BX5-0001");
    publish(run);
    assertEquals(SharedStore.Outcome.THERE, publish(run));
    book().add(run.id(), remark("seen again"));
    try (SharedStore store = SharedStore.at(address())) {
      assertEquals(
          List.of(run.id()), ids(store.pending(book(), SharedStore.sealed(book()).keySet())));
      assertEquals(SharedStore.Outcome.ADDED, store.publish(book(), run));
      assertEquals(List.of(), store.pending(book(), SharedStore.sealed(book()).keySet()));
    }
    assertEquals("1|15|1", server.sql(name(), counts()).strip());
  }

  private static List<Long> ids(List<RunSummary> runs) {
    return runs.stream().map(RunSummary::id).toList();
  }

  private static String counts() {
    return "SELECT (SELECT count(*) FROM millrace.run), (SELECT count(*) FROM millrace.reading),"
        + " (SELECT count(*) FROM millrace.remark)";
  }

  @Test
  void aSimulatedRunIsNeverPublished() {
    RunSummary run = run("BX5-0001", RunOrigin.SIMULATED, Sample.START);
    assertEquals(
        "run 1: it is simulated, which is never published; expected a run of a real unit that"
            + " ended. Leave it out: a store holds what was measured.",
        assertThrows(BadInputException.class, () -> publish(run)).getMessage());
    try (SharedStore store = SharedStore.at(address())) {
      assertEquals(List.of(), store.pending(book(), SharedStore.sealed(book()).keySet()));
    }
  }

  @Test
  void theSameRunWithOtherDataIsRefusedAndWhatIsThereStays() {
    RunSummary run = run("BX5-0001");
    publish(run);
    try (RunWriter writer = book().resume(run.id())) {
      writer.commit(Sample.point("p9", PointState.COMPLETE), Sample.readings(2), List.of());
      writer.end(RunState.COMPLETE, "", Sample.START);
    }
    assertTrue(
        refused(run).contains("has run 1 (UUID " + run.uuid() + ") already, with other data"));
    assertEquals("1|15|0", server.sql(name(), counts()).strip());
  }

  @Test
  void monthsAreMadeByThoseWhoNeedThemAlsoAtOnce() throws Exception {
    List<RunSummary> runs = new ArrayList<>();
    for (int month = 1; month <= 6; month++) {
      Instant at = Instant.parse("2026-0" + month + "-01T00:00:00Z");
      runs.add(run("BX5-000" + month, RunOrigin.BENCH, at));
      runs.add(run("BX5-001" + month, RunOrigin.BENCH, at.minusNanos(1)));
    }
    ExecutorService benches = Executors.newFixedThreadPool(3);
    List<Future<Integer>> done = new ArrayList<>();
    for (int bench = 0; bench < 3; bench++) {
      done.add(benches.submit(() -> all(runs)));
    }
    int sent = 0;
    for (Future<Integer> each : done) {
      sent += got(each);
    }
    benches.shutdown();
    assertEquals(runs.size(), sent, "each is sent once");
    assertEquals("12|180|0", server.sql(name(), counts()).strip());
    String parts =
        server.sql(
            name(),
            "SELECT string_agg(DISTINCT tableoid::regclass::text, ' ' ORDER BY"
                + " tableoid::regclass::text) FROM millrace.reading");
    assertEquals(
        "millrace.reading_2025_12 millrace.reading_2026_01 millrace.reading_2026_02"
            + " millrace.reading_2026_03 millrace.reading_2026_04 millrace.reading_2026_05"
            + " millrace.reading_2026_06",
        parts.strip());
  }

  private static int got(Future<Integer> sent) throws InterruptedException, ExecutionException {
    return sent.get();
  }

  private int all(List<RunSummary> runs) {
    int sent = 0;
    try (Logbook mine = Logbook.readOnly(book().path());
        SharedStore store = SharedStore.at(address())) {
      for (RunSummary run : runs) {
        sent += store.publish(mine, run) == SharedStore.Outcome.SENT ? 1 : 0;
      }
    }
    return sent;
  }

  @Test
  void textsThatLookLikeSqlAreOnlyTexts() {
    String unit = "x'); DROP TABLE millrace.run; --\\.\n\\copy";
    RunSummary run = run(unit);
    publish(run);
    try (Logbook there = SharedStore.logbook(address())) {
      RunFilter of = RunFilter.ALL.ofUnit(Optional.of(unit));
      assertEquals(1, there.runs(of).size());
      assertEquals(1, there.runs(RunFilter.ALL.holding(Optional.of("DROP TABLE"))).size());
      assertEquals(0, there.runs(RunFilter.ALL.holding(Optional.of("%"))).size());
    }
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "UPDATE millrace.reading SET value = value + 1e-12 WHERE number = 1 AND point_id = 2",
        "UPDATE millrace.reading SET channel_id = 99 WHERE number = 1 AND point_id = 2",
        "UPDATE millrace.reading SET common_group_id = 99 WHERE number = 1 AND point_id = 2",
        "UPDATE millrace.reading SET raw = raw || ' ' WHERE number = 1 AND point_id = 2",
        "UPDATE millrace.reading SET point_id = 99 WHERE number = 1 AND point_id = 2",
        "INSERT INTO millrace.reading SELECT month, run_uuid, 99, number, state, channel_id, value,"
            + " zero, taken_at, elapsed, u, u_common, u_common_relative, common_group_id, raw,"
            + " extra FROM millrace.reading WHERE number = 1 AND point_id = 2",
        "DELETE FROM millrace.reading WHERE number = 1 AND point_id = 2"
      })
  void aForgedRowIsFoundAndNamed(String forgery) {
    RunSummary run = run("BX5-0001");
    publish(run);
    server.sql(name(), "ALTER TABLE millrace.reading DISABLE TRIGGER ALL; " + forgery);
    try (Logbook there = SharedStore.logbook(address())) {
      RunVerification found = there.verify(1);
      assertFalse(found.sound());
      assertEquals(
          List.of("Run 1: its readings are not what was stored at its end."), found.faults());
    }
  }

  @Test
  void nobodyChangesOrDeletesARow() {
    publish(run("BX5-0001"));
    for (String table : List.of("run", "point", "reading", "reading_2026_11", "link")) {
      for (String sql : List.of("DELETE FROM millrace.", "TRUNCATE millrace.")) {
        String said =
            assertThrows(
                    IllegalStateException.class,
                    () ->
                        server.sql(
                            name(), sql + table + " CASCADE".repeat(sql.startsWith("T") ? 1 : 0)))
                .getMessage();
        assertTrue(said.contains("are never changed or deleted"), said);
      }
    }
  }

  @Test
  void aLogbookThatWasChangedSendsNothing() throws Exception {
    RunSummary run = run("BX5-0001");
    try (var raw = java.sql.DriverManager.getConnection("jdbc:sqlite:" + book().path());
        var statement = raw.createStatement()) {
      statement.execute("DROP TRIGGER incident_stays");
      statement.execute("UPDATE incident SET text = 'other'");
    }
    assertTrue(
        refused(run)
            .contains(
                "run 1 was not taken: the run in the logbook does not fit its own digest and seal:"
                    + " Run 1: its incidents are not what was stored at its end."));
    assertEquals("0|0|0", server.sql(name(), counts()).strip());
  }

  @Test
  void aStoreOfANewerVersionIsLeftAlone() {
    server.sql(
        name(),
        "INSERT INTO millrace.flyway_schema_history SELECT 3, '3', 'later', 'SQL', 'V3__later.sql',"
            + " 1, 'somebody', now(), 1, true");
    String expected = "it has version 3; this Millrace knows stores up to version 2. Use a newer";
    for (Map.Entry<String, Runnable> each :
        Map.<String, Runnable>of(
                "publish", () -> SharedStore.at(address()).close(),
                "prepare", () -> SharedStore.prepare(address()),
                "read", () -> SharedStore.logbook(address()).close())
            .entrySet()) {
      String said = assertThrows(LogbookException.class, () -> each.getValue().run()).getMessage();
      assertTrue(said.contains(expected), each.getKey() + ": " + said);
    }
  }
}
