// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.stream.LongStream;
import millrace.evidence.PointState;
import millrace.evidence.Result;
import millrace.fault.LogbookException;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What a logbook makes of files that are old, foreign, damaged or tampered with. */
class LogbookFilesTest {
  @TempDir Path folder;

  private Path written() {
    Path path = folder.resolve("a.db");
    try (Logbook logbook = Logbook.openOrCreate(path);
        RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      for (int i = 0; i < 20; i++) {
        writer.commit(Sample.point("p" + i, PointState.COMPLETE), Sample.readings(20), List.of());
      }
      writer.end(RunState.COMPLETE, "", Sample.START);
    }
    return path;
  }

  private static void tamper(Path path, String... statements) {
    try (SqlSession session = SqliteConnections.forWriting(path)) {
      session.transact(
          "tampering",
          () -> {
            for (String each : statements) {
              session.script(each);
            }
          });
    }
  }

  private static String refused(Path path) {
    return assertThrows(LogbookException.class, () -> Logbook.open(path)).getMessage();
  }

  @Test
  void opensACopyOfTheFileAloneOnAFolderThatMayNotBeWritten() throws IOException {
    Path away = Files.createDirectory(folder.resolve("archive"));
    Path copy = Files.copy(written(), away.resolve("a.db"));
    Files.setPosixFilePermissions(copy, PosixFilePermissions.fromString("r--r--r--"));
    Files.setPosixFilePermissions(away, PosixFilePermissions.fromString("r-xr-xr-x"));
    try (Logbook logbook = Logbook.readOnly(copy)) {
      assertEquals(20, logbook.reader(1).points().size());
      assertTrue(logbook.verify(1).sound());
    } finally {
      Files.setPosixFilePermissions(away, PosixFilePermissions.fromString("rwxr-xr-x"));
    }
  }

  @Test
  void refusesToWriteWhereItWasOpenedForReading() {
    try (Logbook logbook = Logbook.readOnly(written())) {
      String message =
          assertThrows(LogbookException.class, () -> logbook.begin(Sample.start("BX5-0002")))
              .getMessage();
      assertTrue(message.contains("may not be written"), message);
    }
  }

  @Test
  void bringsALogbookOfTheFirstVersionToThePresentOne() {
    Path path = folder.resolve("old.db");
    try (SqlSession session = SqliteConnections.forWriting(path)) {
      session.transact("making an old file", () -> Migrations.steps(session, 1));
    }
    String message =
        assertThrows(LogbookException.class, () -> Logbook.readOnly(path)).getMessage();
    assertTrue(message.contains("it has version 1"), message);
    assertTrue(message.contains("'millrace analyze RUN --logbook COPY'"), message);
    try (Logbook logbook = Logbook.open(path)) {
      logbook.begin(Sample.start("BX5-0001")).close();
    }
    try (Logbook logbook = Logbook.readOnly(path)) {
      assertEquals(List.of(), logbook.reader(1).remarks());
    }
  }

  /** Replies were kept as text, and the wall clock in nanoseconds since 1970, up to version 4. */
  @Test
  void readingsOfAnOlderLogbookStayWhatTheyAre() {
    Path path = folder.resolve("old.db");
    try (SqlSession session = SqliteConnections.forWriting(path)) {
      session.transact(
          "making an old file",
          () -> {
            Migrations.steps(session, 4);
            session.script(
                """
                INSERT INTO run (uuid, unit, origin, title, millrace, started_at, utc_offset_s, state)
                  VALUES ('0190-1', 'BX5-0001', 'imported', 'old', '0.1.0', 1000000, 0, 'complete');
                INSERT INTO point (run_id, number, place, part, key, kind, visit, state, reason, started,
                  ended, settings) VALUES (1, 1, 1, 0, 'p1', 'measure', 0, 'complete', '', 0, 9,
                  '{"voltmeter range":"1 V"}');
                INSERT INTO channel (run_id, signal, instrument) VALUES (1, 'current', 'elsewhere');
                INSERT INTO reading (point_id, number, channel_id, state, value, raw, taken_at, elapsed)
                  VALUES (1, 1, 1, 0, 1.5, '1.5', 1000007, 5), (1, 2, 1, 0, 2.5, ' 2.5', 1000009, NULL),
                  (1, 3, 1, 1, NULL, '99', NULL, 7);
                """);
          });
    }
    try (Logbook logbook = Logbook.open(path);
        ReadingCursor cursor = logbook.reader(1).readings()) {
      List<String> found = new ArrayList<>();
      while (cursor.next()) {
        found.add(
            cursor.raw()
                + (cursor.hasTakenAt() ? " at " + cursor.takenAtNanos() : "")
                + (cursor.hasElapsed() ? " after " + cursor.elapsedNanos() : ""));
      }
      assertEquals(List.of("1.5 at 1000007 after 5", " 2.5 at 1000009", "99 after 7"), found);
      assertEquals(
          Map.of("voltmeter range", "1 V"), logbook.reader(1).points().get(0).settings().words());
    }
    String message =
        assertThrows(LogbookException.class, () -> tamper(path, "DELETE FROM reading"))
            .getMessage();
    assertTrue(message.contains("readings are never"), message);
  }

  /** Words stood in each result and each row of a budget up to version 6, and were sealed so. */
  @Test
  void resultsOfAnOlderLogbookStayWhatTheyAreAndFitTheirSeal() {
    Path path = folder.resolve("old.db");
    String whole;
    try (SqlSession session = SqliteConnections.forWriting(path)) {
      session.transact(
          "making an old file",
          () -> {
            Migrations.steps(session, 6);
            session.script(
                """
                INSERT INTO run (uuid, unit, origin, title, millrace, started_at, utc_offset_s, state)
                  VALUES ('01900000-0000-7000-8000-000000000001', 'BX5-0001', 'imported', 'old', '0.1.0', 1000000, 0, 'complete');
                INSERT INTO evaluation (run_id, basis, made_at, millrace, reason) VALUES (1, 'b', 9, '0.1.0', '');
                INSERT INTO result (id, evaluation_id, quantity, "range", at, kind, value, missing, n, coverage,
                  standard_uncertainty, expanded_uncertainty, lower, upper, coverage_factor, limit_lower,
                  decision_rule, guard_factor, conformity, limit_when, covers, risk, method, notes) VALUES
                  (3, 1, 'tempco', '1mA', '{}', 'missing', NULL, 'one temperature', 1, NULL, NULL, NULL, NULL, NULL,
                    NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, 'a', '[]'),
                  (5, 1, 'current_error', '1mA', '{}', 'value', 0.1, NULL, 4, 0.9545, 1.5, 3, 0.7, 1e300, 2, -5,
                    'simple', 0, 'pass', '{}', '{"basis":"measured"}', '{}', 'b', '["c"]'),
                  (4, 1, 'current_error', '1mA', '{}', 'value', 0.3, NULL, 4, 0.9545, 1.5, 3, 0.7, 1e300, 2, -5,
                    'simple', 0, 'pass', '{}', '{"basis":"measured"}', '{}', 'b', '["c"]'),
                  (6, 1, 'current_error', NULL, '{}', 'value', 0.3, NULL, 4, 0.9545, 1.5, 3, 0.7, 1e300, 2, -5,
                    'simple', 0, 'pass', '{}', '{"basis":"measured"}', '{}', 'b', '["c"]');
                INSERT INTO component (id, result_id, component, "group", value, unit, distribution, sensitivity,
                  contribution, degrees_of_freedom) VALUES (7, 4, 'meter', 'point', 0.1, 'A', 'normal', 1, 0.1, NULL),
                  (8, 5, 'meter', 'point', 0.2, 'A', 'normal', 1, 0.2, 9), (2, 5, 'noise', '', 3, 'A', 'normal', 1, 3, 1);
                """);
          });
      whole = session.query("reading it", () -> results(session, "result", "component", "id"));
    }
    try (Logbook logbook = Logbook.open(path)) {
      SqlSession session = logbook.session();
      assertEquals(
          whole,
          session.query(
              "reading it",
              () -> results(session, "result_in_full", "component_in_full", "number")));
      RunEvaluation judging = logbook.reader(1).evaluations().get(0);
      List<Result> found = logbook.reader(1).results(judging);
      assertEquals(List.of(0, 1, 2, 0), found.stream().map(r -> r.budget().size()).toList());
      // What a judging says that was made since stands beside the same words.
      logbook.save(1, judging("since"), found);
      assertEquals(found, logbook.reader(1).results(judging("since")));
      assertEquals(
          "3 2",
          session.query(
              "counting",
              () ->
                  session
                      .one(
                          "SELECT (SELECT count(*) FROM result_words) || ' '"
                              + " || (SELECT count(*) FROM component_words)",
                          slots -> {},
                          SqlQueryRow::text)
                      .orElseThrow()));
    }
    for (String change :
        List.of("UPDATE result_words SET at = ''", "DELETE FROM component_words")) {
      String message =
          assertThrows(LogbookException.class, () -> tamper(path, change)).getMessage();
      assertTrue(message.contains("words of"), message);
    }
  }

  private static RunEvaluation judging(String basis) {
    return new RunEvaluation(
        basis,
        Sample.START,
        "0.1.0",
        Optional.empty(),
        OptionalDouble.empty(),
        List.of(),
        Optional.empty(),
        Optional.empty(),
        "");
  }

  /** As a judging is sealed. */
  private static String results(SqlSession session, String results, String budgets, String order)
      throws SQLException {
    return new RowHash()
        .add(
            session,
            "result",
            "SELECT " + ResultSqlRows.COLUMNS + " FROM " + results + " ORDER BY id",
            slots -> {})
        .add(
            session,
            "component",
            "SELECT result_id, component, \"group\", value, unit, distribution, sensitivity,"
                + " contribution, degrees_of_freedom FROM "
                + budgets
                + " ORDER BY result_id, "
                + order,
            slots -> {})
        .hex();
  }

  @Test
  void refusesWhatIsNoLogbookAndSaysWhy() throws IOException {
    Path newer = written();
    tamper(newer, "PRAGMA user_version = 99");
    assertTrue(refused(newer).contains("it has version 99; this Millrace knows logbooks up to"));
    Path foreign = folder.resolve("foreign.db");
    tamper(foreign, "CREATE TABLE a (b)", "PRAGMA application_id = 7");
    assertTrue(refused(foreign).contains("this is another program's database"));
    Path empty = folder.resolve("empty.db");
    tamper(empty, "PRAGMA application_id = 7");
    assertTrue(refused(empty).contains("this is an empty database"));
    Path text = Files.writeString(folder.resolve("text.db"), "not a database ".repeat(100));
    assertTrue(refused(text).contains("this is not a logbook"));
    assertTrue(refused(folder).contains("this is a directory"));
    assertTrue(refused(folder.resolve("none.db")).contains("there is no such file"));
  }

  @Test
  void noticesAReadingThatWasChangedBehindItsBack() {
    Path path = written();
    tamper(path, "DROP TRIGGER reading_stays", "UPDATE reading SET value = 2 WHERE number = 3");
    try (Logbook logbook = Logbook.readOnly(path)) {
      RunVerification found = logbook.verify(1);
      assertFalse(found.sound());
      assertTrue(found.faults().get(0).contains("its readings are not what was stored at its end"));
    }
  }

  @Test
  void refusesToChangeOrDeleteAReading() {
    Path path = written();
    for (String change : List.of("UPDATE reading SET raw = ''", "DELETE FROM reading")) {
      String message =
          assertThrows(LogbookException.class, () -> tamper(path, change)).getMessage();
      assertTrue(message.contains("readings are never"), message);
    }
  }

  @Test
  void aFullDiskLosesNothingThatWasCommitted() {
    Path path = written();
    try (SqlSession session = SqliteConnections.forWriting(path)) {
      session.query(
          "limiting the file",
          () -> session.one("PRAGMA max_page_count = 1", slots -> {}, SqlQueryRow::whole));
      String message =
          assertThrows(
                  LogbookException.class,
                  () ->
                      session.transact(
                          "filling the disk",
                          () -> {
                            for (int i = 0; i < 1000; i++) {
                              RunSqlRows.insertFacts(
                                  session, 1, new RunFacts(Map.of("fact " + i, "x".repeat(1000))));
                            }
                          }))
              .getMessage();
      assertTrue(message.contains("the disk is full"), message);
    }
    try (Logbook logbook = Logbook.readOnly(path)) {
      assertEquals(400, logbook.reader(1).readingCount());
      assertTrue(logbook.verify(1).sound());
    }
  }

  private static LongStream seeds() {
    return LongStream.range(0, 40);
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void aDamagedFileIsRefusedOrGivesWhatWasStored(long seed) throws IOException {
    Path path = written();
    byte[] bytes = Files.readAllBytes(path);
    SplittableRandom random = new Seeds(seed).stream("damage");
    int from = random.nextInt(bytes.length - 512);
    for (int i = from; i < from + 512; i++) {
      bytes[i] = (byte) ~bytes[i];
    }
    Files.write(path, bytes);
    try (Logbook logbook = Logbook.readOnly(path)) {
      // Pages that are not full have room where damage does no harm.
      if (logbook.verify(1).sound()) {
        assertEquals(RunState.COMPLETE, logbook.reader(1).summary().state());
        for (int point = 1; point <= 20; point++) {
          assertEquals(Sample.readings(20), logbook.reader(1).readings(point));
        }
      }
    } catch (LogbookException e) {
      assertTrue(e.getMessage().startsWith("logbook '" + path + "'"), e.getMessage());
    }
  }
}
