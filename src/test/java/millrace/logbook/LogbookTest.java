// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Duration;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import millrace.document.Hashes;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointNumber;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.fault.BadInputException;
import millrace.fault.LogbookException;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class LogbookTest {
  @TempDir Path folder;
  @AutoClose private Logbook logbook;

  @BeforeEach
  void create() {
    logbook = Logbook.openOrCreate(folder.resolve("bench 1.db"));
  }

  @Test
  void givesBackARunAsItWasBegun() {
    try (RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      RunSummary summary = logbook.reader(writer.run()).summary();
      assertEquals(Sample.start("BX5-0001"), summary.start());
      assertEquals(RunState.UNFINISHED, summary.state());
      assertEquals(7, summary.uuid().version());
      assertEquals(2, summary.uuid().variant());
      assertEquals(
          Sample.START.toEpochMilli(), summary.uuid().getMostSignificantBits() >>> 16, "stamp");
    }
  }

  @Test
  void givesBackAPointWithItsReadingsAndIncidents() {
    try (RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      Point point = Sample.point("p1", PointState.FLAGGED);
      Reading overload =
          new Reading(
              MeasuredSignal.VOLTAGE,
              "dmm2",
              ReadingState.OVERLOAD,
              OptionalDouble.empty(),
              OptionalDouble.empty(),
              "+9.90000000E+37",
              Sample.START,
              Duration.ofSeconds(11));
      List<Reading> readings = List.of(Sample.reading(1e-3, 1), overload, Sample.reading(0, 2));
      Point stored = writer.commit(point, readings, List.of(Sample.incident("asked again")));
      RunReader reader = logbook.reader(writer.run());
      assertEquals(List.of(stored), reader.points());
      assertEquals(1, stored.id());
      assertEquals(point.conditions(), stored.conditions());
      assertEquals(point.settings(), stored.settings());
      assertEquals(readings, reader.readings(1));
      assertEquals(List.of(Sample.incident("asked again")), reader.incidents());
      assertEquals(Duration.ofSeconds(12), reader.lastElapsed());
    }
  }

  @Test
  void numbersWhatComesWithAPlaceOfThePlanBeforeAndAfterIt() {
    List<PointNumber> asked =
        List.of(
            PointNumber.within(3),
            PointNumber.of(3),
            PointNumber.within(3),
            PointNumber.of(3),
            PointNumber.of(2),
            PointNumber.within(4));
    List<String> got = new ArrayList<>();
    try (RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      for (PointNumber number : asked) {
        Point point = Sample.point("p" + got.size(), PointState.COMPLETE).numbered(0, number);
        got.add(writer.commit(point, List.of(), List.of()).number().text());
      }
      RunReader reader = logbook.reader(writer.run());
      assertEquals(List.of("3.1", "3", "3.2", "3.3", "2", "4.1"), got);
      assertEquals(
          List.of("3", "3.1", "3.2", "3.3"),
          reader.pointsAt(3).stream().map(p -> p.number().text()).toList());
      assertEquals(4, reader.lastPlace());
      assertEquals(
          got, reader.points().stream().map(p -> p.number().text()).toList(), "order of taking");
    }
  }

  @Test
  void addsToATimeSeriesInPiecesAndClosesItForGood() {
    try (RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      RunWriter.OpenPoint series = writer.open(Sample.point("t1", PointState.OPEN));
      series.append(Sample.readings(3));
      series.append(Sample.readings(2));
      RunReader reader = logbook.reader(writer.run());
      assertEquals(PointState.OPEN, reader.point(1).orElseThrow().state());
      assertEquals(5, reader.readings(1).size());
      series.close(Sample.point("t1", PointState.COMPLETE));
      assertEquals(PointState.COMPLETE, reader.point(1).orElseThrow().state());
      LogbookException refused =
          assertThrows(
              LogbookException.class, () -> series.close(Sample.point("t1", PointState.FLAGGED)));
      assertTrue(refused.getMessage().contains("a point that was closed is never changed"));
    }
  }

  @Test
  void streamsImportedReadingsWithWhatIsStatedOfThem() {
    try (RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      StatedUncertainty stated =
          new StatedUncertainty(
              OptionalDouble.of(1e-9),
              OptionalDouble.of(2e-9),
              OptionalDouble.of(3e-6),
              Optional.of("meter A"),
              Optional.of("1 mA"));
      RunWriter.OpenPoint open = writer.open(Sample.point("1", PointState.OPEN));
      open.appendImported(
          List.of(
              new ImportedReading(
                  MeasuredSignal.CURRENT,
                  ReadingState.NUMBER,
                  OptionalDouble.of(1e-3),
                  "1e-3",
                  Optional.empty(),
                  Optional.of(Duration.ofMillis(-5)),
                  stated,
                  Map.of("remark", "a \"b\"")),
              new ImportedReading(
                  MeasuredSignal.UNIT_TEMPERATURE,
                  ReadingState.NUMBER,
                  OptionalDouble.of(0),
                  "0",
                  Optional.of(Sample.START),
                  Optional.empty(),
                  StatedUncertainty.NOTHING,
                  Map.of())));
      try (ReadingCursor cursor = logbook.reader(writer.run()).readings()) {
        assertTrue(cursor.next());
        assertEquals(OptionalDouble.of(1e-9), cursor.u());
        assertEquals(OptionalDouble.of(2e-9), cursor.uCommon());
        assertEquals(OptionalDouble.of(3e-6), cursor.uCommonRelative());
        assertEquals(Optional.of("meter A"), cursor.commonGroup());
        assertEquals(Optional.of("1 mA"), cursor.meterRange());
        assertEquals(-5_000_000, cursor.elapsedNanos());
        assertFalse(cursor.hasTakenAt());
        assertEquals(Map.of("remark", "a \"b\""), cursor.extra());
        assertTrue(cursor.next());
        assertEquals(MeasuredSignal.UNIT_TEMPERATURE, cursor.signal());
        assertTrue(cursor.hasValue());
        assertEquals(0.0, cursor.value());
        assertFalse(cursor.hasElapsed());
        assertEquals(OptionalDouble.empty(), cursor.u());
        assertEquals(Optional.empty(), cursor.commonGroup());
        assertFalse(cursor.next());
      }
    }
  }

  @Test
  void keepsFilesWholeAndOnce() {
    byte[] small = "title: night\n".getBytes(StandardCharsets.UTF_8);
    byte[] large = new byte[2 * FileSqlRows.PIECE + 17];
    for (int i = 0; i < large.length; i++) {
      large[i] = (byte) (i * 31 + i / 255);
    }
    try (RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      RunInputFile kept = writer.file(FileRole.SEQUENCE, "night.yaml", small);
      writer.file(FileRole.PART, "same.yaml", small);
      writer.file(FileRole.OTHER, "empty", new byte[0]);
      RunInputFile announced =
          new RunInputFile(FileRole.READINGS, "a.csv", Hashes.sha256(large), large.length);
      writer.file(announced, new ByteArrayInputStream(large));
      RunReader reader = logbook.reader(writer.run());
      List<RunInputFile> files = reader.files();
      assertEquals(4, files.size());
      assertEquals(kept.sha256(), files.get(1).sha256());
      assertArrayEquals(small, reader.content(files.get(1)));
      assertArrayEquals(new byte[0], reader.content(files.get(2)));
      assertArrayEquals(large, reader.content(files.get(3)));
    }
  }

  /** What a file of readings is made of, digits, takes far less room than it has bytes. */
  @Test
  void keepsAFileOfReadingsCompressed() throws SQLException {
    StringBuilder csv = new StringBuilder("range,nominal_A,current_A\n");
    for (int i = 0; i < 10_000; i++) {
      csv.append("1mA,0.001,0.00100000").append(i * 7919L % 10_000).append('\n');
    }
    byte[] content = csv.toString().getBytes(StandardCharsets.UTF_8);
    try (RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      RunInputFile kept = writer.file(FileRole.READINGS, "a.csv", content);
      assertArrayEquals(content, logbook.reader(writer.run()).content(kept));
    }
    try (SqlSession raw = SqliteConnections.forReading(logbook.path())) {
      long bytes =
          raw.one("SELECT sum(length(content)) FROM file_piece", slots -> {}, SqlQueryRow::whole)
              .orElseThrow();
      assertTrue(bytes < content.length / 4, bytes + " of " + content.length);
    }
  }

  @Test
  void refusesAFileThatIsNotWhatWasAnnounced() {
    try (RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      RunInputFile announced = new RunInputFile(FileRole.READINGS, "a.csv", "00", 3);
      LogbookException refused =
          assertThrows(
              LogbookException.class,
              () -> writer.file(announced, new ByteArrayInputStream(new byte[] {1, 2, 3})));
      assertTrue(refused.getMessage().contains("the file changed while it was read"));
      assertEquals(List.of(), logbook.reader(writer.run()).files());
    }
  }

  @Test
  void notesInstrumentsAndFindsTheRunsThatOneTouched() {
    InstrumentEntry meter =
        new InstrumentEntry(
            "dmm1",
            "current meter",
            "scpi-meter",
            "tcp 127.0.0.1:5025",
            "Acme,M1,SN77,1.0",
            Optional.of("SN77"),
            Optional.of(
                new InstrumentEntry.Certificate(
                    "Lab", "C-12", Optional.of(LocalDate.of(2026, 1, 2)), Optional.empty())),
            Sample.START);
    try (RunWriter first = logbook.begin(Sample.start("BX5-0001"));
        RunWriter second = logbook.begin(Sample.start("BX5-0002"))) {
      first.instrument(meter);
      assertEquals(List.of(meter), logbook.reader(first.run()).instruments());
      assertEquals(List.of(first.run()), numbers(byInstrument("SN77")));
      assertEquals(List.of(), numbers(byInstrument("SN78")));
      assertEquals(
          List.of(second.run()),
          numbers(
              RunFilter.ALL
                  .ofUnit(Optional.of("BX5-0002"))
                  .ofBatch(Optional.of("B7"))
                  .within(Optional.of(Sample.START), Optional.of(Sample.START.plusNanos(1)))));
      assertEquals(
          List.of(),
          numbers(RunFilter.ALL.within(Optional.of(Sample.START.plusNanos(1)), Optional.empty())));
      assertEquals(
          List.of(), numbers(RunFilter.ALL.within(Optional.empty(), Optional.of(Sample.START))));
    }
  }

  private static RunFilter byInstrument(String serial) {
    return RunFilter.ALL.with(Optional.of(serial));
  }

  private List<Long> numbers(RunFilter filter) {
    return logbook.runs(filter).stream().map(RunSummary::id).toList();
  }

  @Test
  void findsARunByNumberAndByTheBeginningOfItsUuid() {
    try (RunWriter first = logbook.begin(Sample.start("BX5-0001"));
        RunWriter second = logbook.begin(Sample.start("BX5-0002"))) {
      assertEquals(first.run(), logbook.find("1").id());
      assertEquals(second.run(), logbook.find(second.uuid().toString().toUpperCase()).id());
      BadInputException none = assertThrows(BadInputException.class, () -> logbook.find("77"));
      assertTrue(none.getMessage().contains("there is no run '77'"));
      BadInputException several =
          assertThrows(
              BadInputException.class, () -> logbook.find(first.uuid().toString().substring(0, 6)));
      assertTrue(several.getMessage().contains("runs 1, 2"), several.getMessage());
      assertThrows(BadInputException.class, () -> logbook.find("%"));
      assertThrows(BadInputException.class, () -> logbook.find("99999999999999999999999"));
    }
  }

  @Test
  void writesStepsAheadSoThatAnInterruptedOneShows() {
    try (RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      long done = writer.stepStarted("s1", "soak at 5 degC", Duration.ofSeconds(1));
      writer.stepStarted("s2", "sweep", Duration.ofSeconds(3));
      writer.stepEnded(done, "settled", Duration.ofSeconds(2));
      writer.incident(Sample.incident("whatever comes next"));
      assertSettledAndSwept(logbook.reader(writer.run()).steps());
    }
  }

  private static void assertSettledAndSwept(List<StepEntry> steps) {
    assertEquals(
        Optional.of(new StepEntry.End(Duration.ofSeconds(2), "settled")), steps.get(0).end());
    assertEquals(Optional.empty(), steps.get(1).end());
  }

  @Test
  void writesTheEndOfAStepAtTheLatestWhenItIsClosed() {
    long run;
    try (RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      run = writer.run();
      long done = writer.stepStarted("s1", "soak at 5 degC", Duration.ofSeconds(1));
      writer.stepStarted("s2", "sweep", Duration.ofSeconds(3));
      writer.stepEnded(done, "settled", Duration.ofSeconds(2));
    }
    assertSettledAndSwept(logbook.reader(run).steps());
  }

  @Test
  void keepsRemarksBesideTheDataWithoutChangingTheirDigest() {
    long run = finished(3);
    String digest = logbook.reader(run).digest();
    Remark remark =
        new Remark(RemarkKind.DO_NOT_USE, OptionalLong.of(1), "door was open", "Ada", Sample.START);
    logbook.add(run, remark);
    assertEquals(List.of(remark), logbook.reader(run).remarks());
    assertEquals(digest, logbook.reader(run).digest());
    assertTrue(logbook.verify(run).sound());
  }

  @Test
  void givesTheSameSetUpTheSameNumber() {
    try (RunWriter first = logbook.begin(Sample.start("BX5-0001"));
        RunWriter second = logbook.begin(Sample.start("BX5-0002"))) {
      long one = first.setUp(new FixtureSetUp("F1", "C1", ""));
      assertEquals(one, second.setUp(new FixtureSetUp("F1", "C1", "")));
      assertEquals(one + 1, second.setUp(new FixtureSetUp("F1", "C2", "")));
      assertEquals(
          Optional.of(new FixtureSetUp("F1", "C2", "")), logbook.reader(second.run()).setUp());
    }
  }

  @Test
  void aBulkThatIsNotFinishedLeavesNothingBehind() {
    try (GroupedTransactions groupedTransactions = logbook.bulk(100);
        RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      writer.commit(Sample.point("p1", PointState.COMPLETE), Sample.readings(3), List.of());
      groupedTransactions.wrote(3);
    }
    assertEquals(List.of(), logbook.runs(RunFilter.ALL));
  }

  @Test
  void aBulkCommitsEachTimeThatEnoughRowsHaveCome() {
    try (GroupedTransactions groupedTransactions = logbook.bulk(5);
        RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      for (int i = 0; i < 3; i++) {
        writer.commit(Sample.point("p" + i, PointState.COMPLETE), Sample.readings(3), List.of());
        groupedTransactions.wrote(3);
      }
    }
    assertEquals(2, logbook.reader(1).points().size());
  }

  @Test
  void aFailedWriteLeavesTheWriterUsable() {
    try (RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      RunInputFile other = new RunInputFile(FileRole.PART, "part.yaml", "0".repeat(64), 3);
      assertThrows(
          LogbookException.class,
          () -> writer.file(other, new ByteArrayInputStream(new byte[] {1, 2, 3})));
      Point stored =
          writer.commit(Sample.point("p1", PointState.COMPLETE), Sample.readings(1), List.of());
      assertEquals(1, stored.id());
      assertEquals(List.of(), logbook.reader(1).files());
    }
  }

  /** A run of so many points that ended. */
  private long finished(int points) {
    try (RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      writer.file(FileRole.SEQUENCE, "night.yaml", new byte[] {1, 2, 3});
      for (int i = 0; i < points; i++) {
        writer.commit(
            Sample.point("p" + i, PointState.COMPLETE),
            Sample.readings(4),
            List.of(Sample.incident("line\nfeed\tand µ")));
      }
      writer.end(RunState.COMPLETE, "", Sample.START.plusSeconds(60));
      return writer.run();
    }
  }

  @Test
  void endsARunWithADigestAndAnEmptyWriteAheadLog() throws Exception {
    long run = finished(2);
    RunSummary summary = logbook.reader(run).summary();
    assertEquals(RunState.COMPLETE, summary.state());
    assertEquals(Optional.of(logbook.reader(run).digest()), summary.digest());
    assertEquals(0, Files.size(folder.resolve("bench 1.db-wal")));
  }

  @Test
  void runsThatAreAlikeHaveDigestsOfTheirOwn() {
    long first = finished(2);
    long second = finished(2);
    assertNotEquals(logbook.reader(first).digest(), logbook.reader(second).digest());
  }

  @Test
  void copiesItselfWhileARunIsWritten() {
    try (RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      writer.commit(Sample.point("p1", PointState.COMPLETE), Sample.readings(2), List.of());
      Path copy = folder.resolve("copy.db");
      logbook.backup(copy);
      try (Logbook other = Logbook.readOnly(copy)) {
        assertEquals(1, other.reader(1).points().size());
      }
    }
  }

  @Test
  void refusesASecondWriterOfTheSameRunAndNamesTheFirst() {
    try (RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      LogbookException refused =
          assertThrows(LogbookException.class, () -> logbook.resume(writer.run()));
      assertTrue(
          refused.getMessage().contains("process " + ProcessHandle.current().pid()),
          refused.getMessage());
    }
    logbook.resume(1).close();
  }

  @Test
  void resumesWithTheNextPointAndFlagsWhatWasLeftOpen() {
    try (RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      writer.commit(Sample.point("p1", PointState.COMPLETE), Sample.readings(2), List.of());
      writer.open(Sample.point("t1", PointState.OPEN)).append(Sample.readings(1));
    }
    try (RunWriter writer = logbook.resume(1)) {
      assertEquals(1, writer.closeInterrupted("interrupted"));
      Point next =
          writer.commit(Sample.point("t1", PointState.COMPLETE), Sample.readings(2), List.of());
      assertEquals(3, next.id());
      assertEquals(PointState.FLAGGED, logbook.reader(1).point(2).orElseThrow().state());
    }
  }
}
