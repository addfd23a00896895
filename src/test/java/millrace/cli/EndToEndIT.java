// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import millrace.cli.draft.SchemaCommand;
import millrace.evidence.PointKind;
import millrace.logbook.Logbook;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A short night as a person has it: command after command, each through the front door. */
@Timeout(180)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class EndToEndIT {
  private static final String SEQUENCE =
      """
      sequence: a short night
      readings: {count: 5, line cycles: 10}
      steps:
        - trial lap
        - at temperatures: [23 degC, 40 degC, 10 degC, 23 degC]
          soak: {within: 5 ppm, at least: 10 min, at most: 2 h}
          do:
            - in ranges: [100uA, 1mA]
              do:
                - zero
                - over loads: {share of compliance: [0 %, 1 %, 30 %, 60 %, 75 %, 90 %]}
                  sweep: both
      """;
  private static final String DATASHEET = "examples/fx-3.datasheet.yaml";

  @TempDir private static Path folder;
  private Spoken night = new Spoken(-1, "", "");

  @BeforeAll
  void measure() throws IOException {
    Path sequence = Files.writeString(folder.resolve("short.yaml"), SEQUENCE);
    night =
        millrace(
            "night.db",
            List.of("run", sequence.toString(), "--unit", "FX3-00042", "--datasheet", DATASHEET),
            "--simulated",
            "--operator",
            "Ada");
  }

  private Spoken millrace(String logbook, List<String> words, String... more) {
    List<String> all = new ArrayList<>(words);
    all.addAll(List.of(more));
    all.addAll(List.of("--logbook", folder.resolve(logbook).toString()));
    return Spoken.by(all.toArray(String[]::new));
  }

  private Spoken millrace(String logbook, String... words) {
    return millrace(logbook, List.of(words));
  }

  private JsonNode analyzed(String logbook, String run) {
    return Schemas.json(millrace(logbook, "analyze", run, "--json").out());
  }

  @Test
  void aRunEndsWithResultsAndTheExitCodeOfWhatIsMissing() {
    assertEquals(7, night.code(), night.err());
    List<String> lines = night.out().lines().toList();
    assertTrue(
        lines.get(0).startsWith("SIMULATED unit FX3-00042, run 1: Not evaluated."), night.out());
    assertTrue(night.out().contains("  measure at 5 degC and 50 degC: tempco of "), night.out());
    assertTrue(night.out().contains("  go on to more than 13.50 V at the terminals: compliance"));
    assertTrue(night.out().contains("Report:      millrace report 1 --logbook"), night.out());
  }

  /** A person sees the whole of it without scrolling. */
  @Test
  void whatANightCameToFitsOnOneScreen() {
    List<String> lines = millrace("night.db", "analyze", "1").out().lines().toList();
    assertTrue(lines.size() <= 45, String.join("\n", lines));
    for (String line : lines) {
      assertTrue(line.length() <= 80 || line.contains("--logbook"), line);
    }
    List<String> all = millrace("night.db", "analyze", "1", "--all").out().lines().toList();
    assertTrue(all.size() > lines.size() + 20, "every result stands below");
  }

  @Test
  void progressIsPlainLinesOnStandardErrorWhereNobodyWatches() {
    List<String> lines = night.err().lines().toList();
    assertTrue(lines.get(0).matches("run 1: \\d+ points"), night.err());
    List<String> shares = lines.stream().filter(l -> l.matches(" +\\d+ % +point .*")).toList();
    assertTrue(shares.size() >= 8 && shares.size() <= 11, night.err());
    assertTrue(shares.get(0).endsWith(" left"), night.err());
    assertFalse(night.err().contains("\r"));
    assertFalse(night.err().contains("\u001b"));
    assertFalse(night.out().contains("point 1 of"));
  }

  @Test
  void resultsAsJsonAreValidAndAlone() {
    Spoken spoken = millrace("night.db", "analyze", "1", "--json");
    JsonNode json = Schemas.json(spoken.out());
    assertEquals(List.of(), Schemas.complaints(SchemaCommand.Kind.results, json));
    assertEquals("simulated", json.at("/origin").asText());
    assertEquals("FX3-00042", json.at("/unit").asText());
    assertEquals(7, spoken.code());
  }

  @Test
  void aResultIsUniqueInQuantityRangeAndConditions() {
    List<String> names = new ArrayList<>();
    analyzed("night.db", "1").at("/results").forEach(r -> names.add(name(r)));
    assertEquals(names.stream().distinct().toList(), names);
    assertTrue(names.size() > 40, "only " + names);
  }

  @Test
  void theReportIsOneFileThatSaysSimulated() throws IOException {
    Path file = folder.resolve("report.html");
    Spoken spoken = millrace("night.db", "report", "1", "-o", file.toString());
    assertEquals(0, spoken.code(), spoken.err());
    assertEquals(file + "\n", spoken.out());
    String html = Files.readString(file);
    assertTrue(html.contains("SIMULATED"));
    assertTrue(html.contains("<svg"));
    assertFalse(html.matches("(?s).*(src|href)=[\"'](https?:)?//.*"), "it asks the network");
  }

  @Test
  void whatIsStoredIsShownAndVerified() {
    Spoken shown = millrace("night.db", "show", "1", "--verify");
    assertEquals(0, shown.code(), shown.err());
    String digest = shown.out().replaceFirst("(?s).*\\n  digest +(\\w+)\\n.*", "$1");
    assertEquals(64, digest.length(), shown.out());
    assertTrue(shown.out().contains("digest computed: " + digest), shown.out());
    assertTrue(shown.out().contains("verified: the file is whole"), shown.out());
    assertTrue(shown.out().contains("  origin    simulated"), shown.out());
  }

  @Test
  void runsListsIt() {
    Spoken runs = millrace("night.db", "runs");
    assertEquals(0, runs.code());
    assertTrue(
        runs.out()
            .matches("(?s).*\\n1 +not evaluated +FX3-00042 .* SIMULATED +a short night\\n\\n"),
        runs.out());
  }

  @Test
  void aPointThatIsNotToBeUsedIsLeftOutWithANote() throws IOException {
    Files.copy(folder.resolve("night.db"), folder.resolve("noted.db"));
    String point = aPointOfASweep("noted.db");
    String shown = millrace("noted.db", "show", "1", "--point", point).out();
    String where = shown.substring(0, shown.indexOf(')') + 1);
    assertTrue(where.startsWith("point " + point + ": ") && where.contains("100uA"), shown);
    assertTrue(shown.contains("  setting   current meter range = "), shown);
    assertTrue(shown.matches("(?s).* ammeter +current +.* number +[+-]\\d\\.\\d+E.*"), shown);
    Spoken unasked =
        millrace("noted.db", "note", "1", "--point", point, "--do-not-use", "a lead had slipped");
    assertEquals(2, unasked.code(), "nobody confirmed it");
    assertTrue(unasked.err().contains(where), unasked.err());
    assertFalse(millrace("noted.db", "show", "1").out().contains("a lead had slipped"));
    Spoken noted =
        millrace(
            "noted.db",
            List.of(
                "note", "1", "--point", point, "--do-not-use", "--yes", "a lead had slipped off"));
    assertEquals(0, noted.code(), noted.err());
    Spoken analyzed = millrace("noted.db", "analyze", "1");
    assertTrue(analyzed.out().contains("a lead had slipped off"), analyzed.out());
    assertFalse(millrace("night.db", "analyze", "1").out().contains("slipped off"));
    assertFalse(
        values(analyzed("noted.db", "1")).equals(values(analyzed("night.db", "1"))),
        "the point still counts");
    Spoken back =
        millrace("noted.db", "note", "1", "--point", point, "--use-again", "it was another");
    assertEquals(0, back.code(), back.err());
    assertEquals(values(analyzed("night.db", "1")), values(analyzed("noted.db", "1")));
  }

  private String aPointOfASweep(String logbook) {
    try (Logbook book = Logbook.readOnly(folder.resolve(logbook))) {
      return book.reader(1).points().stream()
          .filter(p -> p.kind() == PointKind.MEASURE && p.conditions().loadOhm().orElse(0) > 0)
          .map(p -> p.number().text())
          .findFirst()
          .orElseThrow();
    }
  }

  /**
   * An export holds reduced currents: scatter is what one point of the bench had, drift of a point
   * between its readings is gone. Values stay within a tenth of their stated uncertainty.
   */
  @Test
  void whatWasExportedGivesTheSameResultsWhereItIsImported() {
    Path csv = folder.resolve("points.csv");
    Spoken exported = millrace("night.db", "export", "1", "-o", csv.toString());
    assertEquals(0, exported.code(), exported.err());
    Spoken imported =
        millrace(
            "elsewhere.db", List.of("import", csv.toString(), "--datasheet", DATASHEET, "--quiet"));
    assertEquals("1\n", imported.out(), imported.err());
    Map<String, JsonNode> there = byName(analyzed("elsewhere.db", "1"));
    Map<String, JsonNode> here = byName(analyzed("night.db", "1"));
    int compared = 0;
    for (String name : notEmpty(here.keySet())) {
      JsonNode a = here.get(name);
      JsonNode b = there.get(name);
      if (b != null
          && a.at("/expanded_uncertainty").isNumber()
          && b.at("/expanded_uncertainty").isNumber()) {
        double difference = Math.abs(a.at("/value").asDouble() - b.at("/value").asDouble());
        double within = 0.1 * a.at("/expanded_uncertainty").asDouble();
        assertTrue(difference <= within, name + ":\n" + a + "\n" + b);
        compared++;
      }
    }
    assertTrue(compared >= 20, compared + " of " + here.size());
  }

  private static Map<String, JsonNode> byName(JsonNode analyzed) {
    Map<String, JsonNode> results = new TreeMap<>();
    analyzed.at("/results").forEach(r -> results.put(name(r), r));
    return results;
  }

  private static Map<String, String> values(JsonNode analyzed) {
    Map<String, String> values = new TreeMap<>();
    byName(analyzed).forEach((name, r) -> values.put(name, r.at("/value").asText()));
    return values;
  }

  private static String name(JsonNode result) {
    return result.at("/quantity").asText()
        + " "
        + result.at("/range").asText()
        + " "
        + result.at("/at")
        + result.at("/limit/when");
  }
}
