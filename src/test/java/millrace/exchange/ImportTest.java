// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.ReadingState;
import millrace.evidence.RunOrigin;
import millrace.evidence.SweepDirection;
import millrace.fault.BadInputException;
import millrace.fault.MillraceException;
import millrace.logbook.FileRole;
import millrace.logbook.ReadingCursor;
import millrace.logbook.RunFilter;
import millrace.logbook.RunInputFile;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.logbook.RunState;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ImportTest extends Importing {
  private static final String NEEDED = "range,nominal_A,current_A";

  private ImportedRun one(String content) throws IOException {
    List<ImportedRun> runs = imports(content);
    assertEquals(1, runs.size());
    return runs.get(0);
  }

  private RunReader reader(ImportedRun run) {
    return logbook.reader(run.run());
  }

  private List<String> keysAndCounts(ImportedRun run) {
    List<String> found = new ArrayList<>();
    for (Point point : reader(run).points()) {
      long currents =
          reader(run).readings(point.id()).stream()
              .filter(r -> r.signal() == MeasuredSignal.CURRENT)
              .count();
      found.add(point.key() + ":" + currents);
    }
    return found;
  }

  private String refused(String content) throws IOException {
    Path file = file(content);
    String message = assertThrows(BadInputException.class, () -> Import.check(file)).getMessage();
    return message.replace(folder.toString() + "/", "");
  }

  @Test
  void makesARunOfOriginImportedThatKeepsTheFileWhole() throws IOException {
    String content = NEEDED + "\n1mA,0.001,0.0010000021\n";
    ImportedRun run = one(content);
    RunReader reader = reader(run);
    assertEquals(RunOrigin.IMPORTED, reader.summary().start().origin());
    assertEquals(RunState.COMPLETE, reader.summary().state());
    assertEquals("night", reader.summary().start().unit());
    assertEquals(1, run.readings());
    assertEquals(1, run.points());
    assertEquals(0, run.flagged());
    RunInputFile kept = reader.files().get(0);
    assertEquals(FileRole.READINGS, kept.role());
    assertEquals("night.csv", kept.name());
    assertArrayEquals(content.getBytes(StandardCharsets.UTF_8), reader.content(kept));
    assertTrue(logbook.verify(run.run()).sound(), "digest");
    assertEquals(
        List.of("the file names no unit, so the unit is called 'night' as the file is"),
        run.notes());
  }

  @Test
  void keepsTheDatasheetBesideTheReadings() throws IOException {
    Path file = file(NEEDED + "\n1mA,0.001,0.001\n");
    byte[] sheet = "datasheet: any".getBytes(StandardCharsets.UTF_8);
    Import.Circumstances with =
        new Import.Circumstances(
            Optional.of(new Import.Attached("sheet.yaml", sheet)),
            RunStart.People.NONE,
            Optional.empty(),
            Map.of("night", List.of("look at this")),
            "0.0.1",
            NOW,
            ZoneOffset.UTC);
    ImportedRun run = Import.check(file).into(logbook, with).get(0);
    RunInputFile kept = reader(run).files().get(1);
    assertEquals(FileRole.DATASHEET, kept.role());
    assertEquals("sheet.yaml", kept.name());
    assertArrayEquals(sheet, reader(run).content(kept));
    assertTrue(run.notes().contains("look at this"));
    assertEquals("look at this", reader(run).incidents().get(0).text());
  }

  @Test
  void keepsEverythingThatARowStates() throws IOException {
    ImportedRun run =
        one(
            "\ufeffslot,unit,point,taken_at,temperature_degC,u_temperature_degC,load_ohm,terminal_voltage_V,u_terminal_voltage_V,supply_V,set_A,direction,u_current_A,u_common_A,u_common_relative,common_group,meter_range,remark,current_A,nominal_A,range\r\n"
                + "A,BX5-0001,p"
                + " 7,2026-01-15T21:30:00.5+01:00,23.25,0.01,4700,4.71,0.002,15,0.00099,down,1e-9,2e-9,3e-6,meter"
                + " A,1 mA,\"as, found\",1.0000021e-3,1e-3,1mA\r\n");
    assertEquals("BX5-0001", run.unit());
    Point point = reader(run).points().get(0);
    assertEquals("p 7", point.key());
    assertEquals(
        new PointConditions(
            Optional.of("1mA"),
            OptionalDouble.of(1e-3),
            OptionalDouble.of(23.25),
            OptionalDouble.of(4700),
            OptionalDouble.of(4.71),
            OptionalDouble.of(15),
            OptionalDouble.of(0.00099),
            Optional.of(SweepDirection.DOWN),
            Optional.of("A"),
            0),
        point.conditions());
    assertEquals(
        Instant.parse("2026-01-15T20:30:00.5Z"), reader(run).summary().start().startedAt());
    assertEquals(ZoneOffset.ofHours(1), reader(run).summary().start().offset());
    try (ReadingCursor cursor = reader(run).readings()) {
      assertTrue(cursor.next());
      assertEquals(MeasuredSignal.CURRENT, cursor.signal());
      assertEquals(1.0000021e-3, cursor.value());
      assertEquals("1.0000021e-3", cursor.raw());
      assertEquals(OptionalDouble.of(1e-9), cursor.u());
      assertEquals(OptionalDouble.of(2e-9), cursor.uCommon());
      assertEquals(OptionalDouble.of(3e-6), cursor.uCommonRelative());
      assertEquals(Optional.of("meter A"), cursor.commonGroup());
      assertEquals(Optional.of("1 mA"), cursor.meterRange());
      assertEquals(Map.of("remark", "as, found"), cursor.extra());
      assertEquals(0, cursor.elapsedNanos());
      assertTrue(cursor.next());
      assertEquals(MeasuredSignal.VOLTAGE, cursor.signal());
      assertEquals(4.71, cursor.value());
      assertEquals(OptionalDouble.of(0.002), cursor.u());
      assertTrue(cursor.next());
      assertEquals(MeasuredSignal.UNIT_TEMPERATURE, cursor.signal());
      assertEquals(23.25, cursor.value());
      assertEquals(OptionalDouble.of(0.01), cursor.u());
      assertFalse(cursor.next());
    }
  }

  @Test
  void aCommonUncertaintyIsSharedWithinTheRangeUnlessAGroupIsNamed() throws IOException {
    ImportedRun run = one("range,nominal_A,current_A,u_common_A\n1mA,0.001,0.001,1e-9\n");
    try (ReadingCursor cursor = reader(run).readings()) {
      assertTrue(cursor.next());
      assertEquals(Optional.of("1mA"), cursor.commonGroup());
    }
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          load_ohm                    | 100 ; 100 ; 200 ; 100     | 1:2 2:1 3:1
          temperature_degC            | 23 ; 23 ; 35 ; 23         | 1:2 2:1 3:1
          terminal_voltage_V          | 1 ; 1 ; 2 ; 2             | 1:2 2:2
          load_ohm,terminal_voltage_V | 100,1 ; 100,1.1 ; 200,2   | 1:2 2:1
          load_ohm,direction          | 9,up ; 9,down ; 9,down    | 1:1 2:2
          supply_V                    | 12 ; 15 ; 15              | 1:1 2:2
          set_A                       | 0.1 ; 0.2 ; 0.2           | 1:1 2:2
          time_s                      | 0 ; 1 ; 2                 | 1:3
          load_ohm,point              | 9,a ; 9,b ; 9,b           | a:1 b:2
          temperature_degC,point      | 23,a ; 23.1,a ; 23,b      | a:2 b:1
          point                       | a ; b ; a                 | a:1 b:1 a:1
          """)
  void makesAPointOfConsecutiveRowsUnderEqualConditions(String columns, String rows, String points)
      throws IOException {
    StringBuilder csv = new StringBuilder(NEEDED + "," + columns + "\n");
    for (String row : rows.split(" ; ")) {
      csv.append("1mA,0.001,0.001,").append(row.strip()).append('\n');
    }
    assertEquals(points.strip(), String.join(" ", keysAndCounts(one(csv.toString()))));
  }

  @Test
  void writesAVoltageWithEachReadingOnlyWhereItMoves() throws IOException {
    ImportedRun run =
        one(
            NEEDED
                + ",load_ohm,terminal_voltage_V\n"
                + "1mA,0.001,0.001,100,1\n1mA,0.001,0.001,100,1.1\n1mA,0.001,0.001,100,1\n"
                + "1mA,0.001,0.001,200,2\n1mA,0.001,0.001,200,2\n");
    List<Double> volts = new ArrayList<>();
    try (ReadingCursor cursor = reader(run).readings(List.of(MeasuredSignal.VOLTAGE))) {
      while (cursor.next()) {
        volts.add(cursor.value());
      }
    }
    assertEquals(List.of(1.0, 1.1, 1.0, 2.0), volts);
  }

  @ParameterizedTest
  @CsvSource({
    "'',NOT_A_NUMBER", "NaN,NOT_A_NUMBER", "nan,NOT_A_NUMBER", "9.91E37,NOT_A_NUMBER",
    "+9.91e+37,NOT_A_NUMBER", "inf,OVERLOAD", "-Infinity,OVERLOAD", "9.9E37,OVERLOAD",
    "-9.90000E+37,OVERLOAD", "99e36,OVERLOAD", "1e200,OVERLOAD"
  })
  void keepsWhatIsNoNumberAndFlagsItsPoint(String entry, ReadingState state) throws IOException {
    ImportedRun run =
        one(
            NEEDED
                + ",load_ohm\n1mA,0.001,0.001,1\n1mA,0.001,"
                + entry
                + ",1\n1mA,0.001,0.001,2\n");
    assertEquals(1, run.flagged());
    List<Point> points = reader(run).points();
    assertEquals(PointState.FLAGGED, points.get(0).state());
    assertEquals("current_A is no number in line 3", points.get(0).reason());
    assertEquals(PointState.COMPLETE, points.get(1).state());
    assertEquals(state, reader(run).readings(1).get(1).state());
    assertEquals(entry, reader(run).readings(1).get(1).raw());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          nominal_A  | 0         | column 'nominal_A' has '0'; expected a current in A, not 0, from 1e-18 to 1e6 in size.
          nominal_A  | 1 mA      | column 'nominal_A' has '1 mA'; expected a current in A, not 0, from 1e-18 to 1e6 in size, a number alone. Write the number in that unit and leave the unit out.
          nominal_A  | ''        | column 'nominal_A' is empty; expected a current in A, not 0, from 1e-18 to 1e6 in size. Fill it in each row.
          current_A  | "0,001"   | '0,001' has a decimal comma; expected a point, as in '0.001'.
          current_A  | 1.0 mA    | column 'current_A' has '1.0 mA'; expected a current in A, a number alone. Write the number in that unit and leave the unit out.
          current_A  | over      | column 'current_A' has 'over'; expected a current in A, a number alone.
          range      | ''        | column 'range' is empty; expected a word. Fill it in each row.
          load_ohm   | -1        | column 'load_ohm' has '-1'; expected a resistance in ohm, 0 or more.
          load_ohm   | NaN       | column 'load_ohm' has 'NaN'; expected a resistance in ohm, 0 or more, a number alone.
          load_ohm   | inf       | column 'load_ohm' has 'inf'; expected a resistance in ohm, 0 or more, a number alone.
          load_ohm   | 9.9E37    | column 'load_ohm' has '9.9E37'; expected a resistance in ohm, 0 or more.
          u_current_A | -1e-9    | column 'u_current_A' has '-1e-9'; expected a standard uncertainty in A, 0 or more.
          temperature_degC | -274 | column 'temperature_degC' has '-274'; expected a temperature in degC, from -273.15 to 10000.
          direction  | left      | 'left' is no direction; expected up or down.
          time_s     | 21:30     | column 'time_s' has '21:30'; expected a time in s from the start, a number alone.
          taken_at   | 2026-01-15T21:30:00 | '2026-01-15T21:30:00' has no offset from UTC; expected ISO 8601 with the offset from UTC, as in '2026-01-15T21:30:00+01:00'. Add the offset that the clock had, or Z for UTC.
          taken_at   | 15.01.2026 | '15.01.2026' is no time; expected ISO 8601 with the offset from UTC, as in '2026-01-15T21:30:00+01:00'.
          """)
  void refusesAnEntryAndSaysWhere(String column, String entry, String message) throws IOException {
    List<String> header = new ArrayList<>(List.of("range", "nominal_A", "current_A"));
    List<String> row = new ArrayList<>(List.of("1mA", "0.001", "0.001"));
    int at = header.indexOf(column);
    if (at < 0) {
      header.add(column);
      row.add(entry);
    } else {
      row.set(at, entry);
    }
    int expectedColumn = String.join(",", row.subList(0, header.indexOf(column))).length() + 2;
    String place = "night.csv:2:" + (header.indexOf(column) == 0 ? 1 : expectedColumn) + ": ";
    assertEquals(
        place + message, refused(String.join(",", header) + "\n" + String.join(",", row) + "\n"));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          range;nominal_A;current_A | night.csv:1:1: the columns are separated by semicolons; expected commas. Save the file with commas between columns and points in numbers.
          range,nominal_A,current_mA | night.csv:1:1: column 'current_A' is missing; expected a header with range, nominal_A, current_A and any others. Did you mean it by 'current_mA'? Then rename that column.
          range,current_A | night.csv:1:1: column 'nominal_A' is missing; expected a header with range, nominal_A, current_A and any others. Add it, or check that this is the file you meant.
          range,nominal_A,current_A,u_temperature_degC | night.csv:1:27: column 'u_temperature_degC' is there without what it belongs to; expected column 'temperature_degC' beside it.
          range,nominal_A,current_A,range | night.csv:1:27: column 'range' is there twice, first as column 1; expected once. Delete or rename one.
          range,nominal_A,current_A | night.csv:1:1: there is no row below the header; expected a reading a row.
          """)
  void refusesAHeaderAndSaysWhere(String header, String message) throws IOException {
    assertEquals(message, refused(header + "\n"));
  }

  @Test
  void refusesTwoNominalCurrentsOfOneRangeAndTwoLoadsOfOnePoint() throws IOException {
    assertEquals(
        "night.csv:3:5: range '1mA' has a nominal current of 0.01 A here and of 0.001 A in line 2;"
            + " expected one nominal current a range. Correct it, or give the ranges different"
            + " names.",
        refused(NEEDED + "\n1mA,0.001,0.001\n1mA,0.01,0.001\n"));
    assertEquals(
        "night.csv:3:17: point 'a' has other settings here than in line 2; expected one range,"
            + " load, supply, set current, direction and slot a point. Give these rows a point of"
            + " their own.",
        refused(NEEDED + ",point,load_ohm\n1mA,0.001,0.001,a,1\n1mA,0.001,0.001,a,2\n"));
  }

  @Test
  void listsTheFirstTwentyFaultsAndImportsNothing() throws IOException {
    String message = refused(NEEDED + "\n" + "1mA,0,x\n".repeat(30) + "1mA,0.001,0.001\n");
    String[] lines = message.split("\n");
    assertEquals(21, lines.length);
    assertEquals("and 40 more.", lines[20]);
    assertEquals(List.of(), logbook.runs(RunFilter.ALL));
  }

  @Test
  void makesOneRunAUnitAlsoWhereTheirRowsAreInterleaved() throws IOException {
    List<ImportedRun> runs =
        imports(
            "unit,"
                + NEEDED
                + "\nB,1mA,0.001,0.001\nA,1mA,0.001,0.002\nB,1mA,0.001,0.003\nA,1mA,0.001,0.004\n");
    assertEquals(List.of("B", "A"), runs.stream().map(ImportedRun::unit).toList());
    assertEquals(List.of("1:2"), keysAndCounts(runs.get(0)));
    assertEquals(List.of("1:2"), keysAndCounts(runs.get(1)));
    assertEquals(OptionalDouble.of(0.004), reader(runs.get(1)).readings(1).get(1).value());
  }

  @Test
  void keepsAndNotesDuplicatesAndTimesThatRunBackwards() throws IOException {
    ImportedRun run =
        one(
            "unit,"
                + NEEDED
                + ",time_s\nA,1mA,0.001,0.001,0\nA,1mA,0.001,0.001,2\nA,1mA,0.001,0.001,1\n"
                + "A,1mA,0.001,0.001,2\n");
    assertEquals(4, run.readings());
    assertEquals(List.of("1:4"), keysAndCounts(run));
    assertEquals(
        List.of(
            "lines 3, 5: equal to another row in every column; kept",
            "line 4: earlier than the row before; kept"),
        run.notes());
    assertEquals(2, reader(run).incidents().size());
  }

  @Test
  void countsTimeFromTheFirstStampAndLeavesUnknownTimesOpen() throws IOException {
    ImportedRun timed =
        one(
            "taken_at,"
                + NEEDED
                + "\n2026-01-15 21:30:00Z,1mA,0.001,0.001\n"
                + "2026-01-15T22:30:10+01:00,1mA,0.001,0.001\n");
    assertEquals(Duration.ofSeconds(10), reader(timed).readings(1).get(1).elapsed());
    ImportedRun timeless = one(NEEDED + "\n1mA,0.001,0.001\n");
    try (ReadingCursor cursor = reader(timeless).readings()) {
      assertTrue(cursor.next());
      assertFalse(cursor.hasElapsed());
      assertFalse(cursor.hasTakenAt());
    }
    assertEquals(NOW, reader(timeless).summary().start().startedAt());
  }

  @ParameterizedTest
  @ValueSource(ints = {9, 10, 5000})
  void takesManyTimedReadingsOnTheOnlyPointOfARangeForASeries(int readings) throws IOException {
    StringBuilder csv = new StringBuilder(NEEDED + ",time_s\n");
    for (int i = 0; i < readings; i++) {
      csv.append("1mA,0.001,0.001,").append(i).append('\n');
    }
    ImportedRun run = one(csv.toString());
    Point point = reader(run).points().get(0);
    assertEquals(readings < 10 ? PointKind.MEASURE : PointKind.TIME_SERIES, point.kind());
    assertEquals(PointState.COMPLETE, point.state());
    assertEquals(Duration.ofSeconds(readings - 1), point.ended());
    assertEquals(readings, reader(run).readingCount());
  }

  @Test
  void countsVisitsToATemperature() throws IOException {
    ImportedRun run =
        one(
            NEEDED
                + ",temperature_degC,load_ohm\n1mA,0.001,0.001,23,1\n1mA,0.001,0.001,23,2\n"
                + "1mA,0.001,0.001,50,1\n1mA,0.001,0.001,23,1\n");
    assertEquals(
        List.of(0, 0, 0, 1),
        reader(run).points().stream().map(p -> p.conditions().visit()).toList());
  }

  @Test
  void notesAColumnThatIsNearlyAKnownOne() throws IOException {
    ImportedRun run = one("unit," + NEEDED + ",temperature_C\nA,1mA,0.001,0.001,23\n");
    assertEquals(
        List.of("column 'temperature_C' (did you mean 'temperature_degC'?) is kept but not used"),
        run.notes());
  }

  @Test
  void refusesAFileThatChangedBetweenCheckAndImport() throws IOException {
    Path file = file(NEEDED + "\n1mA,0.001,0.001\n");
    Import checked = Import.check(file);
    Files.writeString(file, NEEDED + "\n1mA,0.001,0.002\n");
    assertThrows(MillraceException.class, () -> checked.into(logbook, plain()));
    assertEquals(List.of(), logbook.runs(RunFilter.ALL));
  }
}
