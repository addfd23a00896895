// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.time.DateTimeException;
import java.time.Duration;
import java.time.LocalDateTime;
import java.time.OffsetDateTime;
import java.time.format.DateTimeFormatter;
import java.time.format.DateTimeFormatterBuilder;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.document.FileMessageText;
import millrace.document.csv.CsvFile;
import millrace.evidence.ErrorDistribution;
import millrace.evidence.ReadingState;
import millrace.evidence.SweepDirection;
import millrace.logbook.StatedUncertainty;
import millrace.quantity.EnumWord;
import millrace.quantity.NumberText;
import org.jspecify.annotations.Nullable;

/** Makes {@link ImportRow}s from the rows of a file and notes their faults. Single-threaded. */
final class RowReader {
  /** The replies of instruments for an overload (SCPI-1999 volume 1, from memory). */
  private static final double OVERLOAD = 9.9e37;

  /** The replies of instruments for not-a-number (SCPI-1999 volume 1, from memory). */
  private static final double NOT_A_NUMBER = 9.91e37;

  private static final DateTimeFormatter STAMP =
      new DateTimeFormatterBuilder()
          .parseCaseInsensitive()
          .append(DateTimeFormatter.ISO_LOCAL_DATE_TIME)
          .appendPattern("[XXX][XX][X]")
          .toFormatter(Locale.ROOT);

  private static final String STAMP_EXAMPLE =
      "ISO 8601 with the offset from UTC, as in '2026-01-15T21:30:00+01:00'";

  /** What differs from row to row. */
  private static final Set<ImportColumn> CHANGING =
      EnumSet.of(ImportColumn.CURRENT, ImportColumn.TIME, ImportColumn.TAKEN_AT);

  private static final int FIRST_YEAR = 1900;
  private static final int LAST_YEAR = 2150;
  private static final double NANOS_A_SECOND = 1e9;

  private final CsvFile csv;
  private final ImportHeader header;
  private final String unitOfFile;
  private final EmptyColumns blanks = new EmptyColumns();

  /** Columns that a row may have in common with the one before, and what stood in them there. */
  private final int[] steady;

  private final @Nullable String[] fields;
  private @Nullable ImportRow last;

  RowReader(CsvFile csv, ImportHeader header, String unitOfFile) {
    this.csv = csv;
    this.header = header;
    this.unitOfFile = unitOfFile;
    this.steady = header.without(CHANGING);
    this.fields = new String[csv.header().size()];
  }

  /**
   * Reads the present row of the file; empty if it has a fault. Most rows differ from the one
   * before in current and time alone: the rest is then taken from there.
   */
  Optional<ImportRow> read() {
    long before = csv.faults();
    ImportRow model = last;
    ImportRow row = model != null && isLike() ? likeLast(model) : whole();
    boolean good = csv.faults() == before;
    last = good ? row : null;
    if (good) {
      remember();
    }
    return good ? Optional.of(row) : Optional.empty();
  }

  private ImportRow whole() {
    return new ImportRow(
        csv.line(),
        word(ImportColumn.UNIT).orElse(unitOfFile),
        belongs(),
        settings(),
        word(ImportColumn.POINT),
        new ImportRow.Measured(
            number(ImportColumn.TEMPERATURE), number(ImportColumn.U_TEMPERATURE)),
        new ImportRow.Measured(number(ImportColumn.VOLTAGE), number(ImportColumn.U_VOLTAGE)),
        current(),
        stated(),
        new ImportRow.Time(fromStart(), stamp()),
        extra());
  }

  private ImportRow likeLast(ImportRow model) {
    return model.again(csv.line(), current(), new ImportRow.Time(fromStart(), stamp()));
  }

  private boolean isLike() {
    for (int column : steady) {
      if (!csv.field(column).equals(fields[column])) {
        return false;
      }
    }
    return true;
  }

  private void remember() {
    for (int column : steady) {
      fields[column] = csv.field(column);
    }
  }

  private ImportRow.Belongs belongs() {
    return new ImportRow.Belongs(
        word(ImportColumn.BATCH),
        word(ImportColumn.TAG),
        word(ImportColumn.OPERATOR),
        word(ImportColumn.BENCH));
  }

  /** The columns that are stored unchanged beside a reading. */
  private Map<String, String> extra() {
    Map<String, String> extra = new LinkedHashMap<>(header.others(csv));
    distribution().ifPresent(d -> extra.put(ImportColumn.U_DISTRIBUTION.header(), d.text()));
    OptionalDouble degrees = number(ImportColumn.U_DEGREES_OF_FREEDOM);
    if (degrees.isPresent()) {
      extra.put(
          ImportColumn.U_DEGREES_OF_FREEDOM.header(), NumberText.print(degrees.getAsDouble()));
    }
    return extra;
  }

  private Optional<ErrorDistribution> distribution() {
    Optional<String> word = word(ImportColumn.U_DISTRIBUTION).filter(text -> !text.isEmpty());
    Optional<ErrorDistribution> found =
        word.flatMap(w -> EnumWord.find(ErrorDistribution.class, w));
    if (word.isPresent() && found.isEmpty()) {
      List<String> known =
          Arrays.stream(ErrorDistribution.values()).map(ErrorDistribution::text).toList();
      fault(
          ImportColumn.U_DISTRIBUTION,
          FileMessageText.quoted(word.get()) + " is no distribution",
          FileMessageText.oneOf(known),
          FileMessageText.didYouMean(word.get(), known));
    }
    return found;
  }

  /** The values of the columns read so far. */
  EmptyColumns blanks() {
    return blanks;
  }

  /** A field; a column that is empty so far counts as missing. */
  private Optional<String> field(ImportColumn column) {
    Optional<String> text = header.text(csv, column);
    if (text.isEmpty()) {
      return text;
    }
    if (text.get().isEmpty()) {
      return blanks.empty(column, csv.line()) ? Optional.empty() : text;
    }
    blanks
        .filled(column)
        .ifPresent(
            line ->
                fault(
                    column,
                    "column %s is filled here and empty in line %s"
                        .formatted(FileMessageText.quoted(column.header()), line),
                    "it filled in each row, or empty in each",
                    fill(column)));
    return text;
  }

  private ImportRow.Settings settings() {
    return new ImportRow.Settings(
        word(ImportColumn.RANGE).orElse(""),
        number(ImportColumn.NOMINAL).orElse(0),
        number(ImportColumn.LOAD),
        number(ImportColumn.SUPPLY),
        number(ImportColumn.SET),
        direction(),
        word(ImportColumn.SLOT));
  }

  private StatedUncertainty stated() {
    OptionalDouble common = number(ImportColumn.U_COMMON);
    OptionalDouble relative = number(ImportColumn.U_COMMON_RELATIVE);
    Optional<String> group = word(ImportColumn.COMMON_GROUP);
    if (group.isEmpty() && (common.isPresent() || relative.isPresent())) {
      group = header.text(csv, ImportColumn.RANGE);
    }
    return new StatedUncertainty(
        number(ImportColumn.U_CURRENT), common, relative, group, word(ImportColumn.METER_RANGE));
  }

  private Optional<SweepDirection> direction() {
    Optional<String> word = word(ImportColumn.DIRECTION);
    Optional<SweepDirection> direction = word.flatMap(w -> EnumWord.find(SweepDirection.class, w));
    if (word.isPresent() && !word.get().isEmpty() && direction.isEmpty()) {
      fault(
          ImportColumn.DIRECTION,
          FileMessageText.quoted(word.get()) + " is no direction",
          "up or down",
          "");
    }
    return direction;
  }

  private Optional<String> word(ImportColumn column) {
    Optional<String> text = field(column);
    if (text.isPresent() && text.get().isEmpty()) {
      fault(
          column,
          "column " + FileMessageText.quoted(column.header()) + " is empty",
          "a word",
          fill(column));
    }
    return text;
  }

  private static String fill(ImportColumn column) {
    return column.needed()
        ? "Fill it in each row."
        : "Fill it in each row, or leave the column out.";
  }

  private OptionalDouble number(ImportColumn column) {
    Optional<String> text = field(column);
    if (text.isEmpty()) {
      return OptionalDouble.empty();
    }
    OptionalDouble number = NumberText.parse(text.get());
    if (number.isEmpty()) {
      noNumber(column, text.get());
      return OptionalDouble.empty();
    }
    double size = Math.abs(number.getAsDouble());
    if (size >= OVERLOAD || !column.allows(number.getAsDouble())) {
      outside(column, text.get());
      return OptionalDouble.empty();
    }
    return number;
  }

  private void outside(ImportColumn column, String text) {
    fault(
        column,
        "column "
            + FileMessageText.quoted(column.header())
            + " has "
            + FileMessageText.quoted(text),
        column.inWords(),
        "");
  }

  private void noNumber(ImportColumn column, String text) {
    if (text.isEmpty()) {
      fault(
          column,
          "column " + FileMessageText.quoted(column.header()) + " is empty",
          column.inWords(),
          fill(column));
    } else if (isCommaNumber(text)) {
      fault(
          column,
          FileMessageText.quoted(text) + " has a decimal comma",
          "a point, as in " + FileMessageText.quoted(text.replace(',', '.')),
          "");
    } else {
      fault(
          column,
          "column "
              + FileMessageText.quoted(column.header())
              + " has "
              + FileMessageText.quoted(text),
          column.inWords() + ", a number alone",
          startsWithNumber(text) ? "Write the number in that unit and leave the unit out." : "");
    }
  }

  private static boolean isCommaNumber(String text) {
    return text.indexOf(',') >= 0 && NumberText.parse(text.replace(',', '.')).isPresent();
  }

  private static boolean startsWithNumber(String text) {
    String[] parts = text.split("[ \u00a0a-zA-Z%\u00b5\u03bc\u03a9\u2126\u00b0]", 2);
    return parts.length == 2 && NumberText.parse(parts[0]).isPresent();
  }

  /** Only the current may be other than a number: it is stored and its point flagged. */
  private ImportRow.Entry current() {
    String raw =
        header.has(ImportColumn.CURRENT) ? csv.field(header.index(ImportColumn.CURRENT)) : "";
    String text = raw.strip();
    OptionalDouble number = NumberText.parse(text);
    if (number.isPresent()) {
      return entry(number.getAsDouble(), raw);
    }
    Optional<ReadingState> state = noNumber(text);
    if (state.isEmpty()) {
      noNumber(ImportColumn.CURRENT, text);
    }
    return new ImportRow.Entry(state.orElse(ReadingState.MALFORMED), OptionalDouble.empty(), raw);
  }

  private static ImportRow.Entry entry(double number, String raw) {
    double size = Math.abs(number);
    if (size < OVERLOAD) {
      return new ImportRow.Entry(ReadingState.NUMBER, OptionalDouble.of(number), raw);
    }
    return new ImportRow.Entry(
        size == NOT_A_NUMBER ? ReadingState.NOT_A_NUMBER : ReadingState.OVERLOAD,
        OptionalDouble.empty(),
        raw);
  }

  private static Optional<ReadingState> noNumber(String text) {
    String bare = text.toLowerCase(Locale.ROOT).replaceFirst("^[+-]", "");
    return switch (bare) {
      case "", "nan" -> Optional.of(ReadingState.NOT_A_NUMBER);
      case "inf", "infinity" -> Optional.of(ReadingState.OVERLOAD);
      default -> Optional.empty();
    };
  }

  private Optional<Duration> fromStart() {
    OptionalDouble seconds = number(ImportColumn.TIME);
    return seconds.isPresent()
        ? Optional.of(Duration.ofNanos(Math.round(seconds.getAsDouble() * NANOS_A_SECOND)))
        : Optional.empty();
  }

  private Optional<OffsetDateTime> stamp() {
    Optional<String> text = word(ImportColumn.TAKEN_AT);
    return text.isEmpty() || text.get().isEmpty() ? Optional.empty() : stamp(text.get());
  }

  private Optional<OffsetDateTime> stamp(String text) {
    try {
      OffsetDateTime stamp = OffsetDateTime.parse(withLetter(text), STAMP);
      int year = stamp.getYear();
      if (year >= FIRST_YEAR && year < LAST_YEAR) {
        return Optional.of(stamp);
      }
      fault(
          ImportColumn.TAKEN_AT,
          FileMessageText.quoted(text) + " is out of range",
          "a year from " + FIRST_YEAR + " to " + LAST_YEAR,
          "");
    } catch (DateTimeException e) {
      boolean local = isLocal(text);
      fault(
          ImportColumn.TAKEN_AT,
          FileMessageText.quoted(text) + (local ? " has no offset from UTC" : " is no time"),
          STAMP_EXAMPLE,
          local ? "Add the offset that the clock had, or Z for UTC." : "");
    }
    return Optional.empty();
  }

  /** A blank between date and time counts as the letter T. */
  private static String withLetter(String text) {
    int between = "2026-01-15".length();
    return text.length() > between && text.charAt(between) == ' '
        ? text.substring(0, between) + 'T' + text.substring(between + 1)
        : text;
  }

  private static boolean isLocal(String text) {
    try {
      LocalDateTime.parse(withLetter(text));
      return true;
    } catch (DateTimeException e) {
      return false;
    }
  }

  private void fault(ImportColumn column, String found, String expected, String remedy) {
    csv.fault(header.index(column), found, expected, remedy);
  }
}
