// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.StringWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.LongStream;
import millrace.assessment.Assessor;
import millrace.logbook.ReadingCursor;
import millrace.logbook.RunReader;
import millrace.quantity.NumberText;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class ExportTest extends Importing {
  private RunReader imported(String csv) throws IOException {
    return logbook.reader(imports(csv).get(0).run());
  }

  private static String exported(RunReader reader) {
    StringWriter out = new StringWriter();
    Export.readings(reader, out);
    return out.toString();
  }

  @Test
  void whatASpreadsheetWouldComputeIsShownInstead() throws IOException {
    RunReader reader =
        imported(
            "unit,range,nominal_A,current_A,remark,=x\n"
                + "@SUM(A1),1mA,0.001,-1e-3,+1-cmd,-2.5\n"
                + "@SUM(A1),1mA,0.001,-2e-3,=HYPERLINK(1),a=b\n");
    StringWriter out = new StringWriter();
    Exported exported = Export.readings(reader, out);
    String csv = out.toString();
    for (String guarded : List.of("'@SUM(A1),", "'+1-cmd", "'=HYPERLINK(1)", ",'=x")) {
      assertTrue(csv.contains(guarded), csv);
    }
    for (String plain : List.of(",-0.001,", ",-0.002,", "-2.5", "a=b")) {
      assertTrue(csv.contains(plain) && !csv.contains("'" + plain), csv);
    }
    assertTrue(exported.notes().toString().contains("begin like a formula"), csv);
  }

  /** Everything of a run that an analysis looks at, line by line. */
  private static List<String> inputs(RunReader reader) {
    List<String> inputs = new ArrayList<>();
    reader
        .points()
        .forEach(
            p ->
                inputs.add(p.id() + p.key() + p.kind() + p.conditions() + p.state() + p.started()));
    try (ReadingCursor c = reader.readings()) {
      while (c.next()) {
        inputs.add(
            "%s %s %s %s %s %s %s %s %s %s"
                .formatted(
                    c.point(),
                    c.signal(),
                    c.state(),
                    c.hasValue() ? c.value() : "",
                    c.u(),
                    c.uCommon(),
                    c.uCommonRelative(),
                    c.commonGroup(),
                    c.meterRange(),
                    c.hasElapsed() ? c.elapsedNanos() : ""));
      }
    }
    return inputs;
  }

  @Test
  void writesTheColumnsOfAnImportAndSaysWhereTheReadingsComeFrom() throws IOException {
    RunReader reader =
        imported(
            "unit,range,nominal_A,load_ohm,remark,current_A\n"
                + "A,1mA,0.001,100,\"as, \"\"found\"\"\",0.0010000021\nA,1mA,0.001,100,,9.9E37\n");
    assertEquals(
        "unit,range,nominal_A,point,load_ohm,current_A,remark,origin\r\n"
            + "A,1mA,0.001,1,100,0.0010000021,\"as, \"\"found\"\"\",imported\r\n"
            + "A,1mA,0.001,1,100,inf,,imported\r\n",
        exported(reader));
  }

  private static LongStream seeds() {
    return LongStream.range(0, 40);
  }

  /** A file with any of the optional columns, plausible numbers and now and then no number. */
  private static String draft(long seed) {
    SplittableRandom random = new Seeds(seed).stream("export");
    List<String> optional = new ArrayList<>(List.of("temperature_degC", "load_ohm", "supply_V"));
    optional.addAll(List.of("terminal_voltage_V", "direction", "u_current_A", "u_common_A"));
    optional.addAll(List.of("u_common_relative", "common_group", "meter_range", "time_s"));
    optional.addAll(List.of("taken_at", "point", "slot", "set_A", "fixture", "u_temperature_degC"));
    optional.removeIf(column -> random.nextInt(3) == 0);
    optional.removeIf(
        c -> c.equals("u_temperature_degC") && !optional.contains("temperature_degC"));
    StringBuilder csv = new StringBuilder("unit,range,nominal_A,current_A");
    optional.forEach(column -> csv.append(',').append(column));
    csv.append('\n');
    int rows = 1 + random.nextInt(40);
    for (int row = 0; row < rows; row++) {
      int step = row / 4;
      String current =
          random.nextInt(8) == 0
              ? "NaN"
              : NumberText.print(1e-3 * (1 + 1e-4 * random.nextDouble()));
      csv.append("U,1mA,0.001,").append(current);
      for (String column : optional) {
        csv.append(',').append(field(column, row, step, random));
      }
      csv.append('\n');
    }
    return csv.toString();
  }

  private static String field(String column, int row, int step, SplittableRandom random) {
    return switch (column) {
      case "temperature_degC" -> String.valueOf(23 + step % 3);
      case "terminal_voltage_V" -> NumberText.print(random.nextDouble());
      case "direction" -> step % 2 == 0 ? "up" : "down";
      case "common_group", "meter_range", "slot", "fixture" -> "w" + step % 2;
      case "point" -> "p" + step;
      case "time_s" -> NumberText.print(row * 1.25 + 1e-9);
      case "taken_at" -> NumberText.format("2026-01-15T21:30:%02d.000000001+01:00", row);
      case "supply_V", "load_ohm", "set_A" -> String.valueOf(10 + step);
      default -> NumberText.print(random.nextDouble() * 1e-6);
    };
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void anExportThatIsImportedAgainGivesTheSameInputs(long seed) throws IOException {
    RunReader first = imported(draft(seed));
    RunReader second = imported(exported(first));
    assertEquals(inputs(first), inputs(second), draft(seed));
    assertEquals(exported(first), exported(second));
  }

  @Test
  void writesTheConstantsOfEachRangeWithTheirUncertainty() throws IOException {
    StringBuilder csv = new StringBuilder("unit,range,nominal_A,load_ohm,temperature_degC,");
    csv.append("u_current_A,current_A\n");
    for (int degC : List.of(5, 14, 23, 32, 41)) {
      for (int load : List.of(100, 1000, 2000, 3000, 4000)) {
        double current = 1e-3 * (1 + 2e-6 * (degC - 23)) - 1e-9 * load * 1e-3;
        csv.append("U,1mA,0.001,%s,%s,1e-10,%s%n".formatted(load, degC, NumberText.print(current)));
      }
    }
    RunReader reader = imported(csv.toString());
    StringWriter out = new StringWriter();
    Exported exported = Export.constants(Assessor.assess(reader), out);
    List<String> lines = out.toString().lines().toList();
    assertEquals(exported.rows() + 1, lines.size());
    String line =
        lines.stream().filter(l -> l.contains(",temperature_linear,")).findFirst().orElse("none");
    assertTrue(
        line.startsWith("U,imported," + reader.summary().uuid() + ",23,1mA,temperature_linear,"),
        line);
    assertTrue(line.contains(",ppm/K,"), line);
    String value = line.split(",", -1)[6];
    assertEquals(2.0, NumberText.parse(value).orElse(0), 0.01, "ppm/K, as the draft was made");
  }

  @Test
  void readingsThatAreSimulatedSayThatTheyAre() throws IOException {
    ImportedRun run =
        imports("unit,range,nominal_A,current_A,origin\nU,1mA,0.001,0.001,simulated\n").get(0);
    assertEquals(List.of("these readings are simulated, as column 'origin' says"), run.notes());
  }
}
