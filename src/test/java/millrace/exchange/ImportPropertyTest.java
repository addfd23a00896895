// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.stream.LongStream;
import millrace.evidence.MeasuredSignal;
import millrace.fault.BadInputException;
import millrace.fault.InputFault;
import millrace.logbook.ReadingCursor;
import millrace.logbook.RunReader;
import millrace.quantity.NumberText;
import millrace.time.Seeds;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Files that nobody wrote by hand: whatever is in them, an import says or keeps it. */
class ImportPropertyTest extends Importing {
  private static LongStream seeds() {
    return LongStream.range(0, 60);
  }

  /** A row as the test knows it. */
  private record Made(String unit, String range, int degC, int loadOhm, String current) {
    /** What must stay the same within a point. */
    String settings() {
      return range + " " + degC + " " + loadOhm;
    }

    String line() {
      return "%s,%s,%s,%s,%s,%s"
          .formatted(unit, current, range, degC, loadOhm, range.equals("a") ? "0.001" : "1e-4");
    }
  }

  private static List<Made> made(SplittableRandom random) {
    List<Made> rows = new ArrayList<>();
    int count = 1 + random.nextInt(300);
    for (int i = 0; i < count; i++) {
      Made before = rows.isEmpty() ? null : rows.get(rows.size() - 1);
      boolean stays = before != null && random.nextInt(3) > 0;
      rows.add(
          new Made(
              "U" + random.nextInt(3),
              stays ? before.range() : random.nextBoolean() ? "a" : "b",
              stays ? before.degC() : 20 + random.nextInt(3),
              stays ? before.loadOhm() : random.nextInt(3),
              random.nextInt(10) == 0 ? "" : NumberText.print(random.nextDouble() * 1e-3)));
    }
    return rows;
  }

  /** Points by the rule, told independently: per unit, a new one where the settings change. */
  private static Map<String, List<List<String>>> expected(List<Made> rows) {
    Map<String, List<List<String>>> points = new LinkedHashMap<>();
    Map<String, String> last = new LinkedHashMap<>();
    for (Made row : rows) {
      List<List<String>> there = points.computeIfAbsent(row.unit(), u -> new ArrayList<>());
      if (!row.settings().equals(last.put(row.unit(), row.settings()))) {
        there.add(new ArrayList<>());
      }
      there.get(there.size() - 1).add(row.current());
    }
    return points;
  }

  private static List<List<String>> found(RunReader reader) {
    List<List<String>> points = new ArrayList<>();
    long at = 0;
    try (ReadingCursor cursor = reader.readings(List.of(MeasuredSignal.CURRENT))) {
      while (cursor.next()) {
        if (cursor.point() != at) {
          at = cursor.point();
          points.add(new ArrayList<>());
        }
        points
            .get(points.size() - 1)
            .add(cursor.hasValue() ? NumberText.print(cursor.value()) : "");
      }
    }
    return points;
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void noReadingIsLostInventedOrFiledUnderAnotherPoint(long seed) throws IOException {
    List<Made> rows = made(new Seeds(seed).stream("rows"));
    StringBuilder csv =
        new StringBuilder("unit,current_A,range,temperature_degC,load_ohm,nominal_A\n");
    rows.forEach(row -> csv.append(row.line()).append('\n'));
    List<ImportedRun> runs = imports(csv.toString());
    Map<String, List<List<String>>> expected = expected(rows);
    assertEquals(List.copyOf(expected.keySet()), runs.stream().map(ImportedRun::unit).toList());
    for (ImportedRun run : runs) {
      List<List<String>> points = expected.getOrDefault(run.unit(), List.of());
      assertEquals(points, found(logbook.reader(run.run())));
      assertEquals(points.size(), run.points());
      assertEquals(points.stream().filter(p -> p.contains("")).count(), run.flagged());
    }
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void aDamagedFileIsImportedOrRefusedWithPlaces(long seed) throws IOException {
    SplittableRandom random = new Seeds(seed).stream("damage");
    StringBuilder csv =
        new StringBuilder("unit,current_A,range,temperature_degC,load_ohm,nominal_A\n");
    made(random).forEach(row -> csv.append(row.line()).append('\n'));
    String letters = ",;\"\n\r\t 0123456789.-eEnN\u00b5\u0000";
    for (int i = random.nextInt(8); i >= 0; i--) {
      int at = random.nextInt(csv.length());
      csv.setCharAt(at, letters.charAt(random.nextInt(letters.length())));
    }
    Path file = file(csv.toString());
    try {
      assertTrue(!Import.check(file).into(logbook, plain()).isEmpty());
    } catch (BadInputException e) {
      for (InputFault fault : e.faults()) {
        assertTrue(fault.place().line() > 0 && fault.place().column() > 0, fault.toString());
      }
    }
  }

  private void importsMany(int rows) throws IOException {
    Path file = folder.resolve("many.csv");
    try (BufferedWriter out = Files.newBufferedWriter(file)) {
      out.write("unit,range,nominal_A,load_ohm,time_s,current_A\n");
      for (int i = 0; i < rows; i++) {
        out.write("U,1mA,0.001," + i / 1000 + "," + i + ",0.00100" + i % 1000 + "\n");
      }
    }
    ImportedRun run = Import.check(file).into(logbook, plain()).get(0);
    assertEquals(rows, run.readings());
    assertEquals(rows / 1000, run.points());
    assertEquals(rows, logbook.reader(run.run()).readingCount());
    assertTrue(logbook.verify(run.run()).sound());
    assertEquals(List.of(), run.notes());
  }

  @Test
  void importsAHundredThousandRows() throws IOException {
    importsMany(100_000);
  }

  @Test
  @Tag("campaign")
  void importsTenMillionRows() throws IOException {
    importsMany(10_000_000);
  }
}
