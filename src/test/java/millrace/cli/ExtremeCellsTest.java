// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import millrace.cli.draft.SchemaCommand;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** One cell of a good file out of all bounds: refused with its place, or told from. */
class ExtremeCellsTest {
  private static final List<String> COLUMNS =
      List.of(
          "range",
          "nominal_A",
          "current_A",
          "load_ohm",
          "terminal_voltage_V",
          "temperature_degC",
          "u_current_A",
          "u_common_A",
          "u_common_relative",
          "u_terminal_voltage_V",
          "u_temperature_degC",
          "time_s",
          "supply_V",
          "set_A");

  @TempDir private Path folder;

  private static String cell(String column, int k) {
    return switch (column) {
      case "range" -> "1mA";
      case "nominal_A" -> "0.001";
      case "current_A" -> String.format(Locale.ROOT, "%.10f", 0.001 - k * 1e-9 + k % 2 * 1e-10);
      case "load_ohm" -> String.valueOf(1000 * (k % 6));
      case "terminal_voltage_V" -> String.valueOf(k % 6);
      case "temperature_degC" -> k < 6 ? "23" : "33";
      case "u_current_A" -> "1e-9";
      case "u_common_A" -> "2e-9";
      case "u_common_relative" -> "1e-6";
      case "u_terminal_voltage_V" -> "1e-5";
      case "u_temperature_degC" -> "0.05";
      case "time_s" -> String.valueOf(10 * k);
      case "supply_V" -> "15";
      default -> "0.001";
    };
  }

  /** Everywhere in a column, or in one row alone. */
  private static String csv(String column, String value, boolean everywhere) {
    StringBuilder csv = new StringBuilder(String.join(",", COLUMNS)).append('\n');
    for (int k = 0; k < 12; k++) {
      List<String> cells = new ArrayList<>();
      for (String c : COLUMNS) {
        cells.add(c.equals(column) && (everywhere || k == 4) ? value : cell(c, k));
      }
      csv.append(String.join(",", cells)).append('\n');
    }
    return csv.toString();
  }

  private String outcome(String column, String value, boolean everywhere) throws IOException {
    String name = column + value + everywhere;
    Path file = Files.writeString(folder.resolve(name + ".csv"), csv(column, value, everywhere));
    String book = folder.resolve(name + ".db").toString();
    Spoken said = Spoken.by("import", file.toString(), "--logbook", book, "--quiet");
    if (said.code() != 0) {
      return said.code() == 2 && said.err().contains("csv:") ? "refused" : "import " + said;
    }
    Spoken analysed = Spoken.by("analyze", "1", "--logbook", book, "--json");
    if (analysed.code() != 0 && analysed.code() != 7) {
      return "analyze " + analysed.code() + ": " + analysed.err();
    }
    var complaints = Schemas.complaints(SchemaCommand.Kind.results, Schemas.json(analysed.out()));
    return complaints.isEmpty() ? "told" : complaints.toString();
  }

  private void keep(String column, String value, boolean everywhere, Map<String, String> wrong)
      throws IOException {
    String found = outcome(column, value, everywhere);
    if (!found.equals("refused") && !found.equals("told")) {
      wrong.put(column + " " + value + (everywhere ? " everywhere" : " once"), found);
    }
  }

  @Test
  void everyCellOutOfBoundsIsRefusedOrToldFrom() throws IOException {
    Map<String, String> wrong = new TreeMap<>();
    for (String column : COLUMNS.subList(1, COLUMNS.size())) {
      keep(column, "1e-300", true, wrong);
      keep(column, "1e36", false, wrong);
    }
    assertEquals(Map.of(), wrong);
  }

  @Test
  void aNominalCurrentThatNothingHasIsRefusedByLineAndColumn() throws IOException {
    Path file = Files.writeString(folder.resolve("n.csv"), csv("nominal_A", "1e-300", true));
    String book = folder.resolve("n.db").toString();
    Spoken said = Spoken.by("import", file.toString(), "--logbook", book);
    assertEquals(2, said.code());
    assertTrue(
        said.err()
            .contains(
                "n.csv:2:5: column 'nominal_A' has '1e-300'; expected a current in A, not 0, from"
                    + " 1e-18 to 1e6 in size."),
        said.err());
    assertTrue(Files.notExists(Path.of(book)));
  }
}
