// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import millrace.sim.fault.FaultPlan;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a run will be able to say, said before it: held against what it then says. */
class PreviewCommandIT {
  private static final String SHEET = "examples/fx-3.datasheet.yaml";
  private static final String SEQUENCE =
      """
      sequence: two ranges at one temperature
      readings: {count: 8, line cycles: 10}
      steps:
        - at temperatures: [23 degC]
          do:
            - in ranges: [1mA, 10mA]
              do:
                - zero
                - over loads: {share of compliance: [0 %, 25 %, 50 %, 75 %, 95 %]}
                  sweep: both
                - find the knee
      """;

  @TempDir private Path folder;

  private Path sheet(String text) throws IOException {
    return Files.writeString(folder.resolve("tight.datasheet.yaml"), text);
  }

  private Path sequence() throws IOException {
    return Files.writeString(folder.resolve("s.yaml"), SEQUENCE);
  }

  private String logbook() {
    return folder.resolve("night.db").toString();
  }

  private static JsonNode json(String... words) throws IOException {
    Spoken said = Spoken.by(words);
    assertTrue(said.code() == 0 || said.code() == 7, said.err());
    return new ObjectMapper().readTree(said.out());
  }

  /** The forecast of a sequence for a unit like that of run 1. */
  private JsonNode likeTheFirst(String sequence) throws IOException {
    return json(
        "preview",
        sequence,
        "--datasheet",
        SHEET,
        "--simulated",
        "--like",
        "1",
        "--json",
        "--logbook",
        logbook());
  }

  /** U of every judged result, by quantity and range. */
  private static Map<String, Double> uncertainties(Iterable<JsonNode> results) {
    Map<String, Double> all = new HashMap<>();
    for (JsonNode r : results) {
      if (!r.get("limit").isNull() && !r.get("expanded_uncertainty").isNull()) {
        all.put(
            r.get("quantity").asText() + " " + r.get("range").asText(),
            r.get("expanded_uncertainty").asDouble());
      }
    }
    return all;
  }

  @Test
  void theUncertaintiesOfTheNextUnitAreForetoldFromTheLast() throws IOException {
    String sequence = sequence().toString();
    for (String unit : new String[] {"FX3-00001", "FX3-00002"}) {
      Spoken ran =
          Spoken.by(
              "run",
              sequence,
              "--unit",
              unit,
              "--datasheet",
              SHEET,
              "--simulated",
              "--logbook",
              logbook());
      assertTrue(ran.code() == 7 || ran.code() == 0, ran.err());
    }
    JsonNode forecast = likeTheFirst(sequence);
    Map<String, Double> foretold = new HashMap<>();
    for (JsonNode limit : forecast.get("limits")) {
      foretold.putAll(uncertainties(List.of(limit.get("result"))));
    }
    Map<String, Double> reached =
        uncertainties(json("analyze", "2", "--json", "--logbook", logbook()).get("results"));
    assertEquals(reached.keySet(), foretold.keySet());
    assertTrue(reached.size() >= 4, reached.toString());
    reached.forEach(
        (what, u) -> {
          double ratio = foretold.get(what) / u;
          boolean known = what.startsWith("current_error");
          assertTrue(ratio > (known ? 0.8 : 0.4), what + ": " + ratio);
          assertTrue(ratio < (known ? 1.25 : 2.5), what + ": " + ratio);
        });
  }

  /** A tempco has its limit at itself, and no second value beside the judged one. */
  @Test
  void theTempcoOfTheNextUnitIsExpectedAsTheLastHadIt() throws IOException {
    Path sequence =
        Files.writeString(
            folder.resolve("tempco.yaml"),
            """
            sequence: tempco of one range
            readings: {count: 5, line cycles: 10}
            steps:
              - at temperatures: [23 degC, 50 degC, 23 degC, 5 degC, 23 degC]
                soak: {within: 2 ppm, at least: 10 min, at most: 2 h}
                do:
                  - in slots: all
                    do:
                      - in ranges: [10mA]
                        do:
                          - zero
                          - over loads: {share of compliance: [0 %, 40 %, 80 %]}
                            sweep: as listed
            """);
    Spoken.by(
        "run",
        sequence.toString(),
        "--unit",
        "FX3-00001",
        "--datasheet",
        SHEET,
        "--simulated",
        "--logbook",
        logbook());
    JsonNode had = tempco(json("analyze", "1", "--json", "--logbook", logbook()).get("results"));
    List<JsonNode> expected = new ArrayList<>();
    likeTheFirst(sequence.toString())
        .get("limits")
        .forEach(limit -> expected.add(limit.get("result")));
    double value = had.get("value").asDouble();
    double least = 2 * had.get("expanded_uncertainty").asDouble();
    assertTrue(Math.abs(value) > least, "far enough from none to tell: " + value);
    assertEquals(value, tempco(expected).get("value").asDouble(), least);
  }

  private static JsonNode tempco(Iterable<JsonNode> results) {
    for (JsonNode r : results) {
      if (r.get("quantity").asText().equals("tempco") && r.get("range").asText().equals("10mA")) {
        return r;
      }
    }
    throw new AssertionError("no tempco of 10mA");
  }

  @Test
  void aLimitThatTheMeterCannotDecideNamesItsCertificate() throws IOException {
    String tight =
        Files.readString(Path.of(SHEET))
            .replace(
                "lower: -150 ppm - 90 pA, upper: 150 ppm + 90 pA",
                "lower: -30 ppm - 90 pA, upper: 30 ppm + 90 pA");
    Spoken said =
        Spoken.done(
            "preview",
            sequence().toString(),
            "--datasheet",
            sheet(tight).toString(),
            "--simulated",
            "--logbook",
            logbook());
    String words = said.out().replaceAll("\\s+", " ");
    assertTrue(words.contains("U too large: current error of 1"), words);
    assertTrue(words.contains("Largest part: meter gain, ammeter 2"), words);
    assertTrue(words.contains("certificate OHC-1042"), words);
    assertTrue(words.contains("What can make it smaller: a certificate with a correction"), words);
    Matcher m =
        Pattern.compile(
                "± ([0-9.]+)\\) ppm[^;]*; U of at most ([0-9.]+) ppm would decide it. Largest part:"
                    + " [^(]*\\(([0-9]+) %\\)[^;]*; (it may be at most|without it U would still be)"
                    + " ([0-9.]+) ppm")
            .matcher(words);
    assertTrue(m.find(), words);
    double rest = Double.parseDouble(m.group(1)) * Math.sqrt(1 - number(m, 3) / 100);
    boolean enough = m.group(4).startsWith("it may");
    assertEquals(enough, number(m, 2) > rest, m.group());
    double told = enough ? Math.sqrt(number(m, 2) * number(m, 2) - rest * rest) : rest;
    assertEquals(1, number(m, 5) / told, 0.2, m.group());
  }

  private static double number(Matcher m, int group) {
    return Double.parseDouble(m.group(group));
  }

  @Test
  void whatIsNotMeasuredIsNamed() throws IOException {
    Spoken said =
        Spoken.by(
            "preview",
            sequence().toString(),
            "--datasheet",
            SHEET,
            "--simulated",
            "--logbook",
            logbook());
    assertTrue(said.out().contains("something is not measured for"), said.out());
    Spoken quick =
        Spoken.by("preview", sequence().toString(), "--datasheet", SHEET, "--simulated", "--quick");
    assertTrue(!quick.out().contains("This run decides"), quick.out());
  }

  /** Nothing is said to any instrument: a bench whose instruments listen hears no line. */
  @Test
  void noInstrumentHearsOfIt() throws IOException {
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      Spoken said =
          Spoken.by(
              "preview",
              sequence().toString(),
              "--datasheet",
              SHEET,
              "--bench",
              served.file(),
              "--logbook",
              logbook());
      assertTrue(said.out().contains("This run decides"), said.out() + said.err());
      assertEquals(List.of(), served.bench().heard());
    }
  }

  /** A person switches the source off for the zero, and on again. */
  @Test
  void foretellsABenchOnWhichAPersonDoesEverything() {
    Spoken said =
        Spoken.by(
            "preview",
            "sequences/quick-look.yaml",
            "--datasheet",
            "examples/lx-1.datasheet.yaml",
            "--bench",
            "examples/kitchen-table.bench.yaml");
    assertEquals(0, said.code(), said.err());
    assertTrue(said.out().contains("This run decides its limit, if the unit is as expected."));
  }
}
