// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ErrorDistribution;
import millrace.evidence.PointState;
import millrace.evidence.Result;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import millrace.fault.BadInputException;
import millrace.fault.LogbookException;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Runs that travel from one logbook to another. */
class PackTest {
  @TempDir Path folder;
  private Path here = Path.of("");
  private Path pack = Path.of("");

  @BeforeEach
  void write() {
    here = folder.resolve("here.db");
    pack = folder.resolve("two.mlr");
    try (Logbook book = Logbook.openOrCreate(here)) {
      for (String unit : List.of("BX5-0001", "BX5-0002")) {
        try (RunWriter writer = book.begin(Sample.start(unit))) {
          writer.file(FileRole.DATASHEET, "bx5.yaml", new byte[] {1, 2, 3});
          writer.setUp(new FixtureSetUp("fixture 1", "cables 1", ""));
          for (int i = 0; i < 3; i++) {
            writer.commit(
                Sample.point("p" + i, PointState.COMPLETE), Sample.readings(4), List.of());
          }
          writer.end(RunState.COMPLETE, "", Sample.START);
        }
      }
    }
  }

  private String packed() {
    try (Logbook book = Logbook.readOnly(here)) {
      return book.pack(book.runs(RunFilter.ALL), pack, Optional.empty(), Sample.START);
    }
  }

  private Path there() {
    return folder.resolve("there.db");
  }

  private static Remark remark(String text) {
    return new Remark(RemarkKind.REMARK, OptionalLong.empty(), text, "Ada", Sample.START);
  }

  private static void change(Path file, String... statements) {
    try (SqlSession session = SqliteConnections.forWriting(file)) {
      for (String each : statements) {
        session.transact("changing", () -> session.script(each));
      }
    }
  }

  @Test
  void comeOutAsTheyWentInWithTheirDigests() {
    String seal = packed();
    try (Logbook a = Logbook.readOnly(here);
        Logbook b = Logbook.openOrCreate(there())) {
      // A run that is there already, so that local numbers differ.
      b.begin(Sample.start("BX5-0009")).close();
      UnpackedRuns taken = b.take(pack);
      assertEquals(seal, taken.seal());
      assertEquals(List.of(2L, 3L), taken.runs().stream().map(UnpackedRuns.Run::id).toList());
      assertTrue(notEmpty(taken.runs()).stream().allMatch(UnpackedRuns.Run::fresh));
      RunReader was = a.reader(2);
      RunReader is = b.reader(3);
      assertEquals(was.summary().start(), is.summary().start());
      assertEquals(was.summary().uuid(), is.summary().uuid());
      assertEquals(was.points(), is.points());
      assertEquals(was.readings(2), is.readings(2));
      assertEquals(was.setUp(), is.setUp());
      assertEquals(was.files(), is.files());
      assertTrue(b.verify(3).sound());
      assertEquals(was.digest(), is.digest());
    }
  }

  /** Words that are there already get another number than they had in the pack. */
  @Test
  void bringTheirResultsBesideThoseOfOtherRuns() {
    try (Logbook a = Logbook.open(here);
        Logbook b = Logbook.openOrCreate(there())) {
      a.save(1, judging(), List.of(result("1uA", "noise"), result("1mA", "meter")));
      a.save(2, judging(), List.of(result("1mA", "meter"), result("1mA", "meter")));
      b.begin(Sample.start("BX5-0009")).close();
      b.save(1, judging(), List.of(result("1mA", "meter")));
    }
    packed();
    try (Logbook a = Logbook.readOnly(here);
        Logbook b = Logbook.openOrCreate(there())) {
      b.take(pack);
      for (long run = 1; run <= 2; run++) {
        assertEquals(a.reader(run).results(judging()), b.reader(run + 1).results(judging()));
        assertEquals(a.reader(run).seal(), b.reader(run + 1).seal());
        assertTrue(b.verify(run + 1).sound());
      }
      SqlSession session = b.session();
      assertEquals(
          List.of(2L, 2L),
          session.query(
              "counting",
              () ->
                  session.list(
                      "SELECT count(*) FROM result_words UNION ALL SELECT count(*) FROM"
                          + " component_words",
                      slots -> {},
                      SqlQueryRow::whole)));
    }
  }

  private static RunEvaluation judging() {
    return new RunEvaluation(
        "basis",
        Sample.START,
        "0.1.0",
        Optional.empty(),
        OptionalDouble.of(23),
        List.of(),
        Optional.empty(),
        Optional.empty(),
        "");
  }

  private static Result result(String range, String component) {
    return new Result(
        ResultQuantity.CURRENT_ERROR,
        Optional.of(range),
        ResultConditions.NONE,
        new ComputationOutcome.Value(5, Optional.empty(), 4),
        Optional.empty(),
        List.of(
            new BudgetComponent(
                component,
                "point",
                1e-7,
                "A",
                ErrorDistribution.NORMAL,
                1,
                1e-7,
                OptionalDouble.empty())),
        Optional.empty(),
        "Methods of Millrace 3.1",
        List.of());
  }

  @Test
  void areNotDoubledAndBringWhatWasSaidOfThemSince() {
    packed();
    try (Logbook b = Logbook.openOrCreate(there())) {
      b.take(pack);
      UnpackedRuns again = b.take(pack);
      assertTrue(notEmpty(again.runs()).stream().noneMatch(r -> r.fresh() || r.more()));
      assertEquals(2, b.runs(RunFilter.ALL).size());
      b.add(1, remark("seen by a colleague"));
      b.pack(b.runs(RunFilter.ALL), folder.resolve("back.mlr"), Optional.empty(), Sample.START);
    }
    try (Logbook a = Logbook.open(here)) {
      UnpackedRuns back = a.take(folder.resolve("back.mlr"));
      assertEquals(List.of(true, false), back.runs().stream().map(UnpackedRuns.Run::more).toList());
      assertEquals(List.of(remark("seen by a colleague")), a.reader(1).remarks());
      assertFalse(a.take(folder.resolve("back.mlr")).runs().get(0).more());
    }
  }

  @Test
  void areRefusedWhereAnythingWasChangedSince() {
    packed();
    change(pack, "UPDATE run SET operator = 'Eve' WHERE id = 2");
    try (Logbook b = Logbook.openOrCreate(there())) {
      String message = assertThrows(LogbookException.class, () -> b.take(pack)).getMessage();
      assertTrue(message.contains("its seal does not fit"), message);
      assertEquals(List.of(), b.runs(RunFilter.ALL));
      // So that none is made for a pack of which nothing is taken.
      LogbookException before = assertThrows(LogbookException.class, () -> Logbook.checkPack(pack));
      assertEquals(message, before.getMessage());
    }
  }

  /** Whoever seals a changed pack again is still betrayed by the digests of the runs. */
  @Test
  void areRefusedWhereReadingsWereChangedAndSealedAgain() {
    packed();
    change(
        pack,
        "DROP TRIGGER reading_stays",
        "UPDATE reading SET value = value * 1.001 WHERE number = 2",
        "DROP TABLE seal");
    try (SqlSession session = SqliteConnections.forWriting(pack)) {
      session.transact(
          "sealing again",
          () -> {
            String seal = RunDigest.ofAll(session);
            session.script("CREATE TABLE seal (sha256 TEXT NOT NULL) STRICT");
            session.change("INSERT INTO seal (sha256) VALUES (?)", slots -> slots.text(seal));
          });
    }
    try (Logbook b = Logbook.openOrCreate(there())) {
      String message = assertThrows(LogbookException.class, () -> b.take(pack)).getMessage();
      assertTrue(message.contains("does not fit its digest and seal"), message);
      assertTrue(message.contains("its readings are not what was stored"), message);
      assertEquals(List.of(), b.runs(RunFilter.ALL));
    }
  }

  @Test
  void meetNoRunOfTheSameNumberWithOtherData() {
    packed();
    change(
        here,
        "DROP TRIGGER run_keeps_its_identity",
        "UPDATE run SET digest = '" + "0".repeat(64) + "' WHERE id = 2");
    try (Logbook a = Logbook.open(here)) {
      String message = assertThrows(LogbookException.class, () -> a.take(pack)).getMessage();
      assertTrue(message.contains("but other data"), message);
    }
  }

  @Test
  void leaveNothingHalfPackedAndAreOnlyRead() throws Exception {
    try (Logbook a = Logbook.open(here)) {
      a.begin(Sample.start("BX5-0003")).close();
      assertThrows(
          BadInputException.class,
          () -> a.pack(a.runs(RunFilter.ALL), pack, Optional.empty(), Sample.START));
    }
    assertFalse(Files.exists(pack));
    try (Logbook a = Logbook.readOnly(here)) {
      a.pack(List.of(a.find("1")), pack, Optional.empty(), Sample.START);
      assertThrows(
          LogbookException.class,
          () -> a.pack(List.of(a.find("1")), pack, Optional.empty(), Sample.START));
    }
    assertEquals(
        "logbook '%s': this is a pack of runs, which is only read. Take it into a logbook first: 'millrace import'."
            .formatted(pack),
        assertThrows(LogbookException.class, () -> Logbook.open(pack)).getMessage());
    try (Logbook read = Logbook.readOnly(pack);
        var files = Files.list(folder)) {
      assertEquals(1, read.runs(RunFilter.ALL).size());
      assertTrue(files.noneMatch(f -> f.toString().endsWith(".part")));
    }
  }
}
