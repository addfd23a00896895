// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import millrace.cli.draft.SchemaCommand;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A run of an invented unit of 1 mA: 50 ppm, 2 ppm/K, -0.5 ppm/V, imported and asked. */
class PredictCommandTest {
  private static final double[] VISITS = {23, 10, 40, 50, 23};

  @TempDir private Path folder;
  private String book = "";

  private static double ppm(double degC, double volts) {
    return 50 + 2 * (degC - 23) - 0.5 * volts;
  }

  @BeforeEach
  void measured() throws IOException {
    List<String> lines = new ArrayList<>();
    lines.add(
        "range,nominal_A,current_A,temperature_degC,terminal_voltage_V,u_current_A,u_common_relative,time_s");
    int n = 0;
    for (double degC : VISITS) {
      for (double volts = 0; volts <= 8; volts += 2) {
        lines.add(
            String.format(
                Locale.ROOT,
                "1mA,1e-3,%.12e,%s,%s,2e-10,3e-6,%d",
                1e-3 * (1 + ppm(degC, volts) * 1e-6),
                degC,
                volts,
                60 * n++));
      }
    }
    Path file = Files.write(folder.resolve("night.csv"), lines);
    book = folder.resolve("book.db").toString();
    assertEquals(0, Spoken.by("import", file.toString(), "--logbook", book, "--quiet").code());
  }

  private Spoken predict(String... words) {
    List<String> all = new ArrayList<>(List.of("predict", "1", "--logbook", book));
    all.addAll(List.of(words));
    return Spoken.by(all.toArray(String[]::new));
  }

  @Test
  void saysTheCurrentFirstAndThenWhatItRestsOn() {
    Spoken spoken = predict("--temperature", "31 degC", "--load", "3 kohm");
    assertEquals(0, spoken.code(), spoken.err());
    List<String> lines = spoken.out().lines().toList();
    assertTrue(lines.get(0).startsWith("1mA at 31 degC, 3 kohm: (1.00006"), spoken.out());
    assertTrue(lines.get(0).contains("error (64."), spoken.out());
    assertEquals("  predicted from visits to other temperatures", lines.get(1));
    assertTrue(lines.get(2).contains("stated, common gain"), spoken.out());
  }

  @Test
  void isOneDocumentThatKeepsToItsSchema() {
    Spoken spoken = predict("--temperature", "31 degC", "--voltage", "3 V", "--json");
    JsonNode document = Schemas.json(spoken.out());
    assertEquals(List.of(), Schemas.complaints(SchemaCommand.Kind.predictions, document));
    JsonNode one = document.get("predictions").get(0);
    assertEquals(ppm(31, 3), one.get("error_ppm").asDouble(), 0.2);
    assertEquals(1e-3 * (1 + ppm(31, 3) * 1e-6), one.get("value").asDouble(), 2e-10);
    assertEquals(2, one.get("coverage_factor").asDouble(), 0.01);
    double u = one.get("standard_uncertainty").asDouble();
    double sum = 0;
    for (JsonNode row : one.get("budget")) {
      sum += Math.pow(row.get("contribution").asDouble(), 2);
    }
    assertEquals(u, Math.sqrt(sum), 1e-9 * u);
  }

  @Test
  void namesTheMissingMeasurementAndEndsWithSeven() {
    Spoken spoken = predict("--temperature", "60 degC", "--voltage", "3 V", "--json");
    assertEquals(7, spoken.code());
    JsonNode document = Schemas.json(spoken.out());
    assertEquals(List.of(), Schemas.complaints(SchemaCommand.Kind.predictions, document));
    JsonNode one = document.get("predictions").get(0);
    assertTrue(one.get("value").isNull());
    assertEquals(
        "60 degC lies outside of 10 to 50 degC: measure at 60 degC", one.get("missing").asText());
  }

  @Test
  void marksWhatItExtrapolates() {
    Spoken spoken =
        predict("--temperature", "60 degC", "--voltage", "3 V", "--extrapolate", "--json");
    assertEquals(0, spoken.code());
    JsonNode one = Schemas.json(spoken.out()).get("predictions").get(0);
    assertTrue(one.get("extrapolated").asBoolean());
    assertEquals(ppm(60, 3), one.get("error_ppm").asDouble(), 8);
  }

  @Test
  void answersTheRowsOfAFileInTheirOrder() throws IOException {
    Path file = folder.resolve("at.csv");
    Files.writeString(
        file,
        "range,temperature_degC,load_ohm,terminal_voltage_V\n"
            + "1mA,45,,4\n1mA,15,1000,\n1mA,99,,4\n");
    Spoken spoken = predict("--at", file.toString(), "--json");
    assertEquals(7, spoken.code(), spoken.err());
    JsonNode all = Schemas.json(spoken.out()).get("predictions");
    assertEquals(3, all.size());
    assertEquals(ppm(45, 4), all.get(0).get("error_ppm").asDouble(), 0.5);
    assertEquals(ppm(15, 1), all.get(1).get("error_ppm").asDouble(), 0.5);
    assertNull(all.get(1).get("at").get("terminal_voltage_V"));
    assertTrue(all.get(2).get("value").isNull());
    assertEquals(3, predict("--at", file.toString()).out().lines().count());
  }

  @Test
  void listsEveryFaultOfAFileWithItsPlace() throws IOException {
    Path file = folder.resolve("at.csv");
    Files.writeString(
        file,
        "range,temperature_degC,load_ohm,terminal_voltage_V\n"
            + "1mB,45,,4\n1mA,x,1000,\n1mA,20,1,1\n");
    Spoken spoken = predict("--at", file.toString());
    assertEquals(2, spoken.code());
    assertTrue(spoken.err().contains("at.csv:2:1: range '1mB' was not measured"), spoken.err());
    assertTrue(spoken.err().contains("at.csv:3:5: 'x'; expected a number"), spoken.err());
    assertTrue(spoken.err().contains("at.csv:4:"), spoken.err());
    assertEquals("", spoken.out());
  }

  @Test
  void namesAColumnThatItDoesNotKnow() throws IOException {
    Path file = folder.resolve("at.csv");
    Files.writeString(file, "range,temperature_degC,load_Ohm\n1mA,45,4\n");
    Spoken spoken = predict("--at", file.toString());
    assertEquals(2, spoken.code());
    assertTrue(spoken.err().contains("Did you mean 'load_ohm'?"), spoken.err());
  }

  @Test
  void laysATableOverWhatWasMeasured() {
    Spoken spoken = predict("--grid");
    assertEquals(0, spoken.code(), spoken.err());
    List<String> lines = spoken.out().lines().toList();
    assertEquals("range 1mA, error in ppm of I_N with its U", lines.get(0));
    assertTrue(lines.get(2).matches("10 degC +24\\.0 \\\u00b1 6\\.0 .*"), spoken.out());
    assertEquals(11, lines.stream().takeWhile(l -> !l.startsWith("Note")).count());
  }

  @Test
  void refusesARangeThatWasNotMeasuredAndWhatDoesNotGoTogether() {
    Spoken range = predict("--range", "10mA");
    assertEquals(2, range.code());
    assertTrue(range.err().contains("--range '10mA' was not measured in this run"), range.err());
    assertEquals(2, predict("--load", "1 kohm", "--voltage", "3 V").code());
    assertEquals(2, predict("--grid", "--voltage", "3 V").code());
    assertEquals(2, predict("--temperature", "31").code());
  }
}
