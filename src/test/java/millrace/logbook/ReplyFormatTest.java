// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertLinesMatch;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.quantity.NumberText;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.RegisterExtension;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Whatever an instrument said is in the logbook to the byte, kept as text or as the format of its
 * number: read back in order of taking, in the view for other programs, in the digest, and in a
 * logbook that a pack brought it to. What prints is Java's formatter, and SQLite's in the view.
 */
class ReplyFormatTest {
  private static final int REPLIES = 6000;
  private static final String CONVERSIONS = "feE";

  @RegisterExtension private final OpenBook book = new OpenBook();

  /**
   * Expected numbers by the list of the class: precision + 32 times the place of the conversion.
   */
  @ParameterizedTest
  @CsvSource({
    "0.00100000123456, 14",
    "-12.5, 1",
    "0, 0",
    "100, 0",
    "+1.5, 33",
    "1.00000123E-03, 72",
    "+1.00000E-03, 101",
    "-1.00000E-03, 69",
    "0.00000000E+00, 72",
    "1.0000012e-06, 135",
    "+2e+22, 160",
  })
  void aNumberThatIsPrintedAsAnInstrumentDoesIsKeptByItsFormat(String reply, int format) {
    assertEquals(format, ReplyFormat.of(reply, Double.parseDouble(reply)));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "0012",
        "-0",
        "-0.00000000E+00",
        " 1.5 ",
        "1.5\r",
        ".5",
        "5.",
        "1e-3",
        "1E5",
        "1e+5",
        "12e+01",
        "1.0E-003",
        "+-1",
        "0.1234567890123456",
        "123456789012345678",
        "1e+300",
        "1e-30",
        "0x1p3",
        "1d",
        "1.5f",
        "\u0661",
        "1_000",
        "5E-324"
      })
  void anyOtherFormIsKeptAsText(String reply) {
    double value = NumberText.parse(reply.strip()).orElse(1.5);
    assertEquals(ReplyFormat.NONE, ReplyFormat.of(reply, value), reply);
  }

  @Test
  void aReplyOfAnotherNumberIsKeptAsText() {
    assertEquals(ReplyFormat.NONE, ReplyFormat.of("1.5", 1.5e-3));
    assertEquals(ReplyFormat.NONE, ReplyFormat.of("1.5", Math.nextUp(1.5)));
    assertNotEquals(ReplyFormat.NONE, ReplyFormat.of("1.5", 1.5));
  }

  /** C prints at least two digits of an exponent, as Java does, and a sign. */
  private static String printed(SplittableRandom random) {
    int digits = random.nextInt(15);
    double size = Math.pow(10, random.nextDouble(-9, 4)) * (random.nextBoolean() ? 1 : -1);
    char conversion = CONVERSIONS.charAt(random.nextInt(CONVERSIONS.length()));
    String plus = random.nextBoolean() ? "+" : "";
    int precision = conversion == 'f' ? Math.min(digits, 11) : digits;
    return String.format(Locale.ROOT, "%" + plus + "." + precision + conversion, size);
  }

  /** A number printed in some way, with what instruments and other programs do to it. */
  private static String reply(SplittableRandom random) {
    String plain = printed(random);
    return switch (random.nextInt(12)) {
      case 0 ->
          plain + new String[] {"\r", "A", " mA", "DC", ",+1.0E+00", "\u03a9"}[random.nextInt(6)];
      case 1 -> " " + plain;
      case 2 -> plain.replaceFirst("([+-]?)", "$100");
      case 3 -> Double.toString(Math.nextUp(NumberText.parse(plain).orElseThrow()));
      case 4 -> plain.replace("E-0", "E-").replace("e-0", "e-").replace("e+", "e");
      case 5 -> plain.replace(".", ",");
      case 6 -> plain.substring(0, random.nextInt(plain.length()));
      case 7 -> "-0" + plain.substring(plain.length() / 2);
      default -> plain;
    };
  }

  private static Reading reading(String raw, int nth) {
    OptionalDouble number = NumberText.parse(raw.strip());
    // Of zeros a file keeps the positive one.
    OptionalDouble value =
        number.isPresent() ? OptionalDouble.of(number.getAsDouble() + 0.0) : number;
    return new Reading(
        MeasuredSignal.CURRENT,
        "dmm1",
        value.isPresent() ? ReadingState.NUMBER : ReadingState.MALFORMED,
        value,
        OptionalDouble.empty(),
        raw,
        Sample.START.plusNanos(nth * 1_000_003L - nth % 7),
        Duration.ofNanos(nth * 1_000_003L));
  }

  private static ImportedReading imported(Reading r, int nth) {
    return new ImportedReading(
        r.signal(),
        r.state(),
        r.value(),
        r.raw(),
        nth % 3 == 0 ? Optional.empty() : Optional.of(r.takenAt()),
        nth % 4 == 0 ? Optional.empty() : Optional.of(r.elapsed()),
        StatedUncertainty.NOTHING,
        Map.of());
  }

  private static List<Reading> readings() {
    SplittableRandom random = new Seeds(20).stream("replies");
    List<Reading> readings = new ArrayList<>();
    for (int i = 0; i < REPLIES; i++) {
      readings.add(reading(reply(random), i));
    }
    return readings;
  }

  @Test
  void everyReplyIsThereToTheByte() {
    List<Reading> readings = readings();
    List<ImportedReading> elsewhere = new ArrayList<>();
    readings.forEach(r -> elsewhere.add(imported(r, elsewhere.size())));
    Logbook logbook = book.logbook();
    try (RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      writer.commit(Sample.point("p1", PointState.COMPLETE), readings, List.of());
      writer.commitImported(
          List.of(new ImportedPoint(Sample.point("p2", PointState.COMPLETE), elsewhere)));
      writer.end(RunState.COMPLETE, "", Sample.START);
    }

    List<String> raw = readings.stream().map(Reading::raw).toList();
    RunReader reader = logbook.reader(1);
    assertEquals(readings, reader.readings(1));
    assertEquals(raw, reader.readings(2).stream().map(Reading::raw).toList());
    assertTrue(logbook.verify(1).sound());
    assertLinesMatch(
        Stream.concat(raw.stream(), raw.stream()).map(Pattern::quote), inTheView("raw").stream());
    assertEquals(
        readings.stream().map(r -> String.valueOf(TimestampNanos.nanos(r.takenAt()))).toList(),
        inTheView("taken_at").subList(0, REPLIES));
    assertTrue(kept("integer") > REPLIES / 2, kept("integer") + " are kept by their format");
    assertTrue(kept("text") > REPLIES / 4, kept("text") + " are kept as text");
  }

  private List<String> inTheView(String column) {
    SqlSession session = book.logbook().session();
    return session.query(
        "reading the view",
        () ->
            session.list(
                "SELECT "
                    + column
                    + " FROM reading_in_full WHERE run_id = 1 ORDER BY point, number",
                slots -> {},
                row -> row.maybeText().orElse("")));
  }

  private long kept(String type) {
    SqlSession session = book.logbook().session();
    return session.query(
        "counting",
        () ->
            session
                .one(
                    "SELECT count(*) FROM reading WHERE typeof(raw) = ?",
                    slots -> slots.text(type),
                    SqlQueryRow::whole)
                .orElseThrow());
  }

  @Test
  void aPackCarriesReplies() {
    List<Reading> readings = readings().subList(0, 500);
    Logbook logbook = book.logbook();
    try (RunWriter writer = logbook.begin(Sample.start("BX5-0001"))) {
      writer.commit(Sample.point("p1", PointState.COMPLETE), readings, List.of());
      writer.end(RunState.COMPLETE, "", Sample.START);
    }
    var pack = book.folder().resolve("one.mlr");
    logbook.pack(logbook.runs(RunFilter.ALL), pack, Optional.empty(), Sample.START);

    try (Logbook other = Logbook.openOrCreate(book.folder().resolve("other.db"))) {
      other.take(pack);
      assertEquals(readings, other.reader(1).readings(1));
      assertTrue(other.verify(1).sound());
    }
  }
}
