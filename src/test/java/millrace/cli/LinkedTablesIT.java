// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import millrace.document.csv.CsvFile;
import millrace.logbook.BenchRuns;
import millrace.quantity.NumberText;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * A simulated night and a file of readings as linked tables. Names of properties and types are
 * those of the Tabular Data Package and Table Schema specifications, version 1 (Frictionless Data,
 * from memory).
 */
@Timeout(180)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class LinkedTablesIT {
  private static final String SEQUENCE =
      """
      sequence: a short night
      readings: {count: 5, line cycles: 10}
      steps:
        - trial lap
        - at temperatures: [23 degC, 40 degC]
          soak: {within: 5 ppm, at least: 10 min, at most: 2 h}
          do:
            - in ranges: [100uA, 1mA]
              do:
                - zero
                - over loads: {share of compliance: [0 %, 30 %, 60 %, 90 %]}
      """;
  private static final String DATASHEET = "examples/fx-3.datasheet.yaml";

  @TempDir private static Path folder;
  private final Map<String, List<Map<String, String>>> rows = new LinkedHashMap<>();
  private JsonNode description = new ObjectMapper().nullNode();
  private Spoken told = new Spoken(-1, "", "");

  private static Spoken millrace(String... words) {
    List<String> all = new ArrayList<>(List.of(words));
    all.addAll(List.of("--logbook", folder.resolve("a.db").toString()));
    return Spoken.by(all.toArray(String[]::new));
  }

  private static Path tables() {
    return folder.resolve("tables");
  }

  @BeforeAll
  void exportTwoRuns() throws IOException {
    Path sequence = Files.writeString(folder.resolve("short.yaml"), SEQUENCE);
    Spoken night =
        millrace(
            "run",
            sequence.toString(),
            "--unit",
            "FX3-00042",
            "--datasheet",
            DATASHEET,
            "--simulated",
            "--operator",
            "=Ada");
    // Not each limit can be decided in so few points.
    assertEquals(7, night.code(), night.err());
    millrace("import", "examples/fx-3-by-hand.csv", "--datasheet", DATASHEET);
    told = millrace("export", "1", "2", "--tables", tables().toString());
    assertEquals(0, told.code(), told.err());
    description = new ObjectMapper().readTree(tables().resolve("datapackage.json").toFile());
    for (JsonNode resource : description.get("resources")) {
      rows.put(
          resource.get("name").asText(), read(tables().resolve(resource.get("path").asText())));
    }
  }

  private static List<Map<String, String>> read(Path file) {
    List<Map<String, String>> rows = new ArrayList<>();
    try (CsvFile csv = CsvFile.open(file)) {
      while (csv.next()) {
        Map<String, String> row = new LinkedHashMap<>();
        for (int i = 0; i < csv.header().size(); i++) {
          row.put(csv.header().get(i), csv.field(i));
        }
        rows.add(row);
      }
      csv.throwIfAny();
    }
    return rows;
  }

  private List<Map<String, String>> of(String table, String run) {
    return rows.get(table).stream().filter(r -> r.get("run").equals(run)).toList();
  }

  @Test
  void everyFileHasRowsOfBothRunsAndSaysWhereTheyComeFrom() throws IOException {
    assertEquals("tabular-data-package", description.get("profile").asText());
    assertEquals(
        Set.of("runs", "instruments", "incidents", "points", "readings", "results", "components"),
        rows.keySet());
    for (String table : List.of("runs", "points", "readings", "results")) {
      assertTrue(of(table, "1").stream().allMatch(r -> r.get("origin").equals("simulated")));
      assertTrue(of(table, "2").stream().allMatch(r -> r.get("origin").equals("imported")));
      assertFalse(of(table, "1").isEmpty() || of(table, "2").isEmpty(), table);
    }
    assertFalse(of("instruments", "1").isEmpty());
    long all = rows.values().stream().mapToLong(List::size).sum();
    assertTrue(told.err().startsWith("Exported %s rows of 2 runs to ".formatted(all)), told.err());
    // No spreadsheet computes the name of the operator.
    assertEquals("'=Ada", of("runs", "1").get(0).get("operator"));
    assertTrue(told.err().contains(" fields begin like a formula; "), told.err());
    try (Stream<Path> files = Files.list(tables())) {
      assertEquals(rows.size() + 1, files.count());
    }
  }

  @Test
  void fieldsAreWhatTheDescriptionSays() {
    int numbers = 0;
    for (JsonNode resource : description.get("resources")) {
      List<Map<String, String>> table = rows.get(resource.get("name").asText());
      List<String> names = new ArrayList<>();
      for (JsonNode field : resource.at("/schema/fields")) {
        String name = field.get("name").asText();
        String type = field.get("type").asText();
        names.add(name);
        assertTrue(List.of("integer", "number", "string").contains(type), type);
        for (Map<String, String> row : table) {
          String value = row.get(name);
          boolean number = type.equals("string") || NumberText.parse(value).isPresent();
          assertTrue(number || (value.isEmpty() && type.equals("number")), name + " " + value);
          numbers += type.equals("string") ? 0 : 1;
        }
      }
      table.forEach(row -> assertEquals(names, List.copyOf(row.keySet())));
    }
    assertTrue(numbers > 1000);
  }

  private static List<String> values(Map<String, String> row, JsonNode columns) {
    List<String> values = new ArrayList<>();
    columns.forEach(c -> values.add(row.get(c.asText())));
    return values;
  }

  @Test
  void keysTellRowsApartAndLinksLeadToOne() {
    int links = 0;
    for (JsonNode resource : description.get("resources")) {
      List<Map<String, String>> table = rows.get(resource.get("name").asText());
      JsonNode key = resource.at("/schema/primaryKey");
      if (!key.isMissingNode()) {
        Set<List<String>> seen = new HashSet<>();
        table.forEach(row -> assertTrue(seen.add(values(row, key)), row.toString()));
      }
      for (JsonNode link : resource.at("/schema/foreignKeys")) {
        links++;
        Set<List<String>> known = new HashSet<>();
        rows.get(link.at("/reference/resource").asText())
            .forEach(row -> known.add(values(row, link.at("/reference/fields"))));
        table.forEach(
            row -> assertTrue(known.contains(values(row, link.get("fields"))), row.toString()));
      }
    }
    assertEquals(6, links);
  }

  @Test
  void resultsAreThoseOfAnalyzeAndTheirComponentsMakeTheirUncertainty() throws IOException {
    JsonNode document =
        new ObjectMapper().readTree(millrace("analyze", "1", "--json").out()).get("results");
    List<Map<String, String>> results = of("results", "1");
    assertEquals(document.size(), results.size());
    int checked = 0;
    for (int i = 0; i < results.size(); i++) {
      Map<String, String> row = results.get(i);
      assertEquals(document.get(i).get("quantity").asText(), row.get("quantity"));
      boolean value = row.get("kind").equals("value");
      if (value) {
        assertEquals(
            document.get(i).get("value").asDouble(), Double.parseDouble(row.get("value")), 0);
      }
      if (value && row.get("quantity").equals("current_error")) {
        checked++;
        double squares =
            of("components", "1").stream()
                .filter(c -> c.get("result").equals(row.get("result")))
                .mapToDouble(c -> Math.pow(Double.parseDouble(c.get("contribution")), 2))
                .sum();
        double u = Double.parseDouble(row.get("standard_uncertainty"));
        assertEquals(u, Math.sqrt(squares), 1e-9 * u);
      }
    }
    assertTrue(checked > 1, results.toString());
  }

  /** A point that was not measured, as a zero, has what was set and no current. */
  @Test
  void pointsStandInTheOrderOfTakingWithTheCurrentThatExportGives() throws IOException {
    Path file = folder.resolve("points.csv");
    assertEquals(0, millrace("export", "1", "-o", file.toString()).code());
    Map<String, String> currents = new LinkedHashMap<>();
    read(file).forEach(row -> currents.put(row.get("point_number"), row.get("current_A")));
    assertTrue(currents.size() >= 16, currents.toString());
    int nth = 0;
    int without = 0;
    for (Map<String, String> row : of("points", "1")) {
      nth++;
      assertEquals(String.valueOf(nth), row.get("nth"));
      assertEquals(currents.getOrDefault(row.get("point"), ""), row.get("current_A"));
      without += row.get("current_A").isEmpty() ? 1 : 0;
    }
    assertEquals(currents.size() + without, nth);
    assertTrue(without > 0);
  }

  @Test
  void aFolderThatIsThereStaysAsItIs() throws IOException {
    Path there = Files.createDirectory(folder.resolve("there"));
    Spoken refused = millrace("export", "1", "--tables", there.toString());
    assertEquals(
        "millrace: "
            + there
            + ": there is something of this name already; expected the name of a new folder. Name"
            + " another one with --tables.\n",
        refused.err());
    assertEquals(2, refused.code());
    Path nowhere = folder.resolve("no/where");
    assertTrue(
        millrace("export", "1", "--tables", nowhere.toString())
            .err()
            .contains(": it cannot be made there; expected a folder that exists, "));
    assertEquals(2, millrace("export", "--tables", folder.resolve("x").toString()).code());
    try (Stream<Path> left = Files.list(folder)) {
      assertFalse(left.anyMatch(p -> p.toString().endsWith(".part")));
    }
  }

  /** Among hundreds of runs it must be plain which one to leave out. */
  @Test
  void aRunWhoseDatasheetIsNotUnderstoodIsNamed() {
    Path book = folder.resolve("other.db");
    BenchRuns.write(book, 2, 1);
    Path none = folder.resolve("none");
    Spoken said =
        Spoken.by("export", "2", "--tables", none.toString(), "--logbook", book.toString());
    assertEquals(2, said.code(), said.err());
    assertTrue(said.err().contains("run 2: bx5.yaml"), said.err());
    assertTrue(said.err().contains("leave the run out"), said.err());
    assertFalse(Files.exists(none));
  }
}
