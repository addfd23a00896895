// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import java.util.SortedMap;
import java.util.TreeMap;
import millrace.document.file.LabSigningKey;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ErrorDistribution;
import millrace.evidence.PointState;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import millrace.fault.LogbookException;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What a person who can write the file could want to change of a run, and what tells of it. */
class SealTest {
  @TempDir private Path folder;
  private Path path = Path.of("");

  @BeforeEach
  void write() {
    path = folder.resolve("a.db");
    try (Logbook book = Logbook.openOrCreate(path)) {
      try (RunWriter writer = book.begin(Sample.start("BX5-0001"))) {
        writer.file(FileRole.DATASHEET, "bx5.yaml", new byte[] {1, 2, 3});
        writer.setUp(new FixtureSetUp("fixture 1", "cables 1", ""));
        writer.instrument(
            new InstrumentEntry(
                "dmm1",
                "current meter",
                "scpi meter",
                "tcp 127.0.0.1:5025",
                "a meter",
                Optional.of("40117"),
                Optional.of(
                    new InstrumentEntry.Certificate(
                        "a laboratory", "C-1", Optional.empty(), Optional.empty())),
                Sample.START));
        writer.commit(
            Sample.point("p1", PointState.COMPLETE),
            Sample.readings(4),
            List.of(Sample.incident("asked again")));
        writer.end(RunState.COMPLETE, "", Sample.START);
      }
      book.save(1, evaluation("first"), results(5));
      book.add(1, remark("seen"));
    }
  }

  private static RunEvaluation evaluation(String basis) {
    return new RunEvaluation(
        basis,
        Sample.START,
        "0.1.0",
        Optional.empty(),
        OptionalDouble.of(23),
        List.of(),
        Optional.empty(),
        Optional.empty(),
        "why");
  }

  private static List<Result> results(double ppm) {
    SortedMap<ResultConditionKey, Double> at = new TreeMap<>();
    at.put(ResultConditionKey.LOAD_OHM, 100.0);
    return List.of(
        new Result(
            ResultQuantity.CURRENT_ERROR,
            Optional.of("1mA"),
            new ResultConditions(at, new TreeMap<>()),
            new ComputationOutcome.Value(ppm, Optional.empty(), 4),
            Optional.empty(),
            List.of(
                new BudgetComponent(
                    "meter",
                    "point",
                    1e-7,
                    "A",
                    ErrorDistribution.NORMAL,
                    1,
                    1e-7,
                    OptionalDouble.empty())),
            Optional.empty(),
            "Methods of Millrace 3.1",
            List.of()));
  }

  private static Remark remark(String text) {
    return new Remark(RemarkKind.REMARK, OptionalLong.empty(), text, "Ada", Sample.START);
  }

  /** Everybody who can write a file can drop its triggers. */
  private void tamper(String... statements) {
    try (SqlSession session = SqliteConnections.forWriting(path)) {
      List<String> triggers =
          session.query(
              "listing triggers",
              () ->
                  session.list(
                      "SELECT name FROM sqlite_schema WHERE type = 'trigger'",
                      slots -> {},
                      SqlQueryRow::text));
      session.transact(
          "tampering",
          () -> {
            for (String each : triggers) {
              session.script("DROP TRIGGER " + each);
            }
            for (String each : statements) {
              session.script(each);
            }
          });
    }
  }

  private RunVerification verified() {
    try (Logbook book = Logbook.readOnly(path)) {
      return book.verify(1);
    }
  }

  @Test
  void whatNobodyTouchedIsWholeAndTellsItsSeals() {
    RunVerification found = verified();
    assertEquals(List.of(), found.faults());
    assertTrue(found.sound());
    assertEquals(
        List.of("end", "judging", "note"),
        found.seals().stream().map(RunVerification.Seal::what).toList());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "UPDATE run SET unit = 'BX5-0002' | its identity",
        "UPDATE run SET operator = 'Eve' | its identity",
        "UPDATE run SET batch = NULL | its identity",
        "UPDATE run SET origin = 'imported' | its identity",
        "UPDATE run SET started_at = started_at + 86400000000000 | its identity",
        "UPDATE run SET ended_at = ended_at + 1 | how it ended",
        "UPDATE run SET state = 'stopped' | how it ended",
        "UPDATE fact SET value = 'day' | its facts",
        "UPDATE setup SET cables = 'cables 2' | its set-up",
        "UPDATE instrument SET certificate = 'C-2' | its instruments and their certificates",
        "UPDATE run_file SET name = 'other.yaml' | the files that it was made from",
        "UPDATE file_piece SET content = zeroblob(9) | is not what it was",
        "UPDATE file_piece SET content = substr(content, 1, length(content) - 1) | is not what it was",
        "UPDATE point SET state = 'flagged' | its points",
        "UPDATE point SET load_ohm = 4701 | its points",
        "UPDATE reading SET value = value * (1 + 1e-15) | its readings",
        "DELETE FROM reading WHERE number = 4 | its readings",
        "DELETE FROM incident | its incidents",
        "UPDATE result SET value = 4 | judging 1 is not what was sealed",
        "UPDATE result_words SET conformity = 'pass' | judging 1 is not what was sealed",
        "UPDATE component_words SET unit = 'V' | judging 1 is not what was sealed",
        "UPDATE component SET contribution = 2e-7 | judging 1 is not what was sealed",
        "UPDATE evaluation SET made_at = made_at + 1 | judging 1 is not what was sealed",
        "UPDATE remark SET text = 'not seen' | note 1 is not what was sealed",
        "DELETE FROM remark | it has 0 of kind 'note' and seals for 1",
        "INSERT INTO remark SELECT 7, 1, NULL, kind, 'b', 'Eve', 1 FROM remark | it has 2 of kind",
        "DELETE FROM link WHERE number = 2 | does not follow the one before",
        "UPDATE link SET content = hex(zeroblob(32)) WHERE number = 3 | does not follow",
        "UPDATE run SET digest = NULL | its digest is missing",
        "UPDATE run SET digest = '' | its digest is not that of its parts",
        "DELETE FROM digest_part | its digest is missing or not whole",
        "DELETE FROM digest_part WHERE part = 'run' | its digest is missing or not whole",
        "UPDATE run SET digest = hex(zeroblob(32)) | its digest is not that of its parts",
        "DELETE FROM link | the seal at its end is not of its digest",
        "UPDATE run SET state = 'unfinished' | its state was changed"
      })
  void aChangeIsToldByThePartThatDoesNotFit(String change, String words) {
    tamper(change);
    RunVerification found = verified();
    assertFalse(found.sound());
    assertTrue(String.join("\n", found.faults()).contains(words), found.faults()::toString);
  }

  @Test
  void aRunThatHasNotEndedIsNotVouchedFor() {
    tamper(
        "UPDATE run SET state = 'unfinished', digest = NULL, ended_at = NULL",
        "DELETE FROM digest_part");
    assertFalse(verified().sound());
  }

  /** Only a signature, or a digest kept elsewhere, tells of this. */
  @Test
  void whoComputesAllAnewIsBetrayedByTheSealOnPaperAndByASignature() {
    Keys laboratory = Keys.in(folder, "lab");
    String before;
    try (Logbook book = Logbook.open(path)) {
      before = book.reader(1).seal().orElseThrow();
      book.sign(1, LabSigningKey.signing(laboratory.secret()), Sample.START);
      assertEquals(Optional.of(3L), book.signed(1, LabSigningKey.checking(laboratory.open())));
    }
    tamper("UPDATE run SET unit = 'BX5-0002'", "DELETE FROM link");
    try (SqlSession session = SqliteConnections.forWriting(path)) {
      session.transact(
          "sealing anew",
          () -> {
            RunSealChain.add(session, 1, RunSealChain.Kind.END, RunDigest.store(session, 1));
            for (RunSealChain.Kind kind :
                List.of(
                    RunSealChain.Kind.JUDGING,
                    RunSealChain.Kind.NOTE,
                    RunSealChain.Kind.SIGNATURE)) {
              for (long id : kind.ids(session, 1)) {
                RunSealChain.add(session, 1, kind, id);
              }
            }
          });
    }
    try (Logbook book = Logbook.readOnly(path)) {
      assertTrue(book.verify(1).sound());
      assertFalse(
          book.verify(1).seals().stream()
              .map(RunVerification.Seal::seal)
              .toList()
              .contains(before));
      assertEquals(Optional.empty(), book.signed(1, LabSigningKey.checking(laboratory.open())));
    }
  }

  @Test
  void aSignatureIsOfOneKeyAndCoversWhatCameBeforeIt() {
    Keys laboratory = Keys.in(folder, "lab");
    try (Logbook book = Logbook.open(path)) {
      book.sign(1, LabSigningKey.signing(laboratory.secret()), Sample.START);
      book.add(1, remark("later"));
      assertTrue(book.verify(1).sound());
      assertEquals(5, book.verify(1).seals().size());
      assertEquals(Optional.of(3L), book.signed(1, LabSigningKey.checking(laboratory.open())));
      Path another = Keys.in(folder, "another").open();
      assertEquals(Optional.empty(), book.signed(1, LabSigningKey.checking(another)));
    }
  }

  @Test
  void aSignedPackIsTakenOnlyAsItWasSigned() {
    Keys laboratory = Keys.in(folder, "lab");
    Path pack = folder.resolve("a.mlr");
    Path later = folder.resolve("later.mlr");
    try (Logbook book = Logbook.open(path)) {
      List<RunSummary> all = book.runs(RunFilter.ALL);
      book.pack(all, pack, Optional.of(LabSigningKey.signing(laboratory.secret())), Sample.START);
    }
    Logbook.checkSigned(pack, LabSigningKey.checking(laboratory.open()));
    Path another = Keys.in(folder, "another").open();
    String said =
        assertThrows(
                LogbookException.class,
                () -> Logbook.checkSigned(pack, LabSigningKey.checking(another)))
            .getMessage();
    assertTrue(said.contains("is not signed by that key"), said);
    try (Logbook there = Logbook.openOrCreate(folder.resolve("there.db"))) {
      there.take(pack);
      assertTrue(there.verify(1).sound());
      assertEquals(Optional.of(3L), there.signed(1, LabSigningKey.checking(laboratory.open())));
      there.add(1, remark("added elsewhere"));
      there.pack(there.runs(RunFilter.ALL), later, Optional.empty(), Sample.START);
    }
    said =
        assertThrows(
                LogbookException.class,
                () -> Logbook.checkSigned(later, LabSigningKey.checking(laboratory.open())))
            .getMessage();
    assertTrue(said.contains("was added to after that key signed it"), said);
  }

  @Test
  void theSameResultsAgainAreNoJudgingAndOthersStandBeside() {
    try (Logbook book = Logbook.open(path)) {
      book.save(1, evaluation("first"), results(5));
      assertEquals(1, book.reader(1).evaluations().size());
      book.save(1, evaluation("first"), results(6));
      List<RunEvaluation> all = book.reader(1).evaluations();
      assertEquals(2, all.size());
      assertEquals(results(6), book.reader(1).results(all.get(1)));
      assertTrue(book.verify(1).sound());
    }
  }

  @Test
  void aRunThatIsResumedEndsWithANewDigestInTheSameChain() {
    String first = verified().computed();
    try (Logbook book = Logbook.open(path);
        RunWriter writer = book.resume(1)) {
      assertFalse(book.verify(1).sound());
      writer.commit(Sample.point("p2", PointState.COMPLETE), Sample.readings(1), List.of());
      writer.end(RunState.COMPLETE, "", Sample.START);
    }
    RunVerification found = verified();
    assertEquals(List.of(), found.faults());
    assertNotEquals(first, found.computed());
    List<String> what = new ArrayList<>();
    found.seals().forEach(seal -> what.add(seal.what()));
    assertEquals(List.of("end", "judging", "note", "end"), what);
  }

  /** IEEE 754-2019, binary64: sign, 11 bits of exponent with bias 1023, 52 of fraction. */
  @ParameterizedTest
  @CsvSource({
    "1, 3ff0000000000000",
    "-2, c000000000000000",
    "0.1, 3fb999999999999a",
    "0, 0000000000000000",
    "-0.0, 0000000000000000",
    "4.9E-324, 0000000000000001",
    "2.0E-3, 3f60624dd2f1a9fc"
  })
  void aNumberEntersByItsBits(double number, String digits) {
    assertEquals(digits, RowHash.bits(number));
  }

  @Test
  void whatIsNoNumberIsNeitherStoredNorSealed() {
    assertThrows(LogbookException.class, () -> RowHash.bits(Double.NaN));
    try (SqlSession session = SqliteConnections.forWriting(path)) {
      assertThrows(
          IllegalArgumentException.class,
          () ->
              session.transact(
                  "storing", () -> session.change("SELECT ?", s -> s.number(Double.NaN))));
    }
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"", "no key", "-----BEGIN PUBLIC KEY-----\nAAAA\n-----END PUBLIC KEY-----"})
  void whatIsNoKeyIsRefusedWithWhatMakesOne(String text) throws Exception {
    Path file = java.nio.file.Files.writeString(folder.resolve("key.pem"), text);
    for (var read :
        List.<Runnable>of(() -> LabSigningKey.signing(file), () -> LabSigningKey.checking(file))) {
      String said = assertThrows(millrace.fault.BadInputException.class, read::run).getMessage();
      assertTrue(said.contains("openssl"), said);
    }
  }
}
