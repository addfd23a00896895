// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.sql.SQLException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.PointNumber;
import millrace.evidence.PointState;
import millrace.evidence.ReadingState;
import millrace.fault.LogbookException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.RegisterExtension;

/** What is computed while an import is written is what its rows give when they are read back. */
class WrittenReadingHashTest {
  @RegisterExtension private final OpenBook open = new OpenBook();

  /** A run with two points, and what adds readings to them. */
  private record Written(SqlSession session, long run, List<Long> points, ReadingSqlRows rows) {
    void add(int nth, long had, ImportedReading... readings) {
      session.transact(
          "writing",
          () -> {
            rows.insertImported(points.get(nth - 1), nth, had, List.of(readings));
            rows.flushed();
          });
    }

    String ofRows() {
      return session.query("reading", () -> RunDigest.Part.READING.of(session, run));
    }
  }

  private Written written(boolean had) {
    SqlSession session = open.logbook().session();
    try (RunWriter writer = open.logbook().begin(Sample.start("BX5-0001"))) {
      List<Long> points = List.of(point(session, writer.run(), 1), point(session, writer.run(), 2));
      return new Written(
          session, writer.run(), points, new ReadingSqlRows(session, writer.run(), had));
    }
  }

  private static long point(SqlSession session, long run, int nth) {
    return session.transaction(
        "writing",
        () ->
            PointSqlRows.insert(
                session,
                run,
                Sample.point("p" + nth, PointState.COMPLETE).numbered(nth, PointNumber.of(nth))));
  }

  private static ImportedReading reading(String raw, double value) {
    return new ImportedReading(
        MeasuredSignal.CURRENT,
        ReadingState.NUMBER,
        OptionalDouble.of(value),
        raw,
        Optional.empty(),
        Optional.of(Duration.ofMillis(-5)),
        StatedUncertainty.NOTHING,
        Map.of());
  }

  private static ImportedReading stated() {
    return new ImportedReading(
        MeasuredSignal.UNIT_TEMPERATURE,
        ReadingState.NUMBER,
        OptionalDouble.of(-0.0),
        "-0",
        Optional.of(Sample.START),
        Optional.empty(),
        new StatedUncertainty(
            OptionalDouble.of(1e-9),
            OptionalDouble.empty(),
            OptionalDouble.of(3e-6),
            Optional.of("Zähler A"),
            Optional.of("1 mA")),
        Map.of("remark", "a \"b\" \u03a9 \ud83d\udd0c", "b", ""));
  }

  private static ImportedReading none() {
    return new ImportedReading(
        MeasuredSignal.VOLTAGE,
        ReadingState.OVERLOAD,
        OptionalDouble.empty(),
        "\u221e,\t\n",
        Optional.empty(),
        Optional.empty(),
        new StatedUncertainty(
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            Optional.empty(),
            Optional.of("10 V")),
        Map.of());
  }

  @Test
  void isTheDigestOfTheRows() {
    Written written = written(false);
    written.add(1, 0, reading("1e-3", 1e-3), stated(), none());
    written.add(1, 3, reading("+0.1", 0.1));
    written.add(2, 0, none(), reading("5E-324", Double.MIN_VALUE));
    assertEquals(Optional.of(written.ofRows()), written.rows().digest());
  }

  @Test
  void isTheDigestOfMoreRowsThanAreHashedAtOnce() {
    Written written = written(false);
    List<ImportedReading> many = new ArrayList<>();
    for (int i = 0; i < 4500; i++) {
      many.add(reading(String.valueOf(i / 8.0), i / 8.0));
    }
    written.add(1, 0, many.toArray(ImportedReading[]::new));
    assertEquals(Optional.of(written.ofRows()), written.rows().digest());
  }

  @Test
  void isTheDigestOfNoRows() {
    Written written = written(false);
    assertEquals(Optional.of(written.ofRows()), written.rows().digest());
  }

  @Test
  void saysNothingOfARunThatHadPoints() {
    assertEquals(Optional.empty(), written(true).rows().digest());
  }

  @Test
  void saysNothingOfReadingsInAnotherOrder() {
    Written written = written(false);
    written.add(2, 0, reading("1", 1));
    written.add(1, 0, reading("2", 2));
    assertEquals(Optional.empty(), written.rows().digest());
  }

  @Test
  void saysNothingOfATextThatADatabaseMayEnd() {
    Written written = written(false);
    written.add(1, 0, reading("1\0002", 1));
    assertEquals(Optional.empty(), written.rows().digest());
  }

  @Test
  void saysNothingWhereReadingsOfABenchAreAmongThem() throws SQLException {
    Written written = written(false);
    written.add(1, 0, reading("1", 1));
    written
        .session()
        .transact(
            "writing", () -> written.rows().insert(written.points().get(1), 0, Sample.readings(1)));
    assertEquals(Optional.empty(), written.rows().digest());
  }

  @Test
  void saysNothingAfterAnythingWasRolledBack() {
    Written written = written(false);
    written.add(1, 0, reading("1", 1));
    assertThrows(LogbookException.class, () -> written.add(1, 0, reading("1", 1)));
    assertEquals(Optional.empty(), written.rows().digest());
  }
}
