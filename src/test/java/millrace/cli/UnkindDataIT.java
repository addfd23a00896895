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
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.function.IntFunction;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import millrace.cli.draft.SchemaCommand;
import millrace.time.Seeds;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Data that no one wishes for, from the file to the JSON: each gives a result, a bound or a reason,
 * or is refused before anything is imported.
 */
class UnkindDataIT {
  private static final String LOADS = "range,nominal_A,current_A,load_ohm\n";

  @TempDir Path folder;

  private static String rows(int n, IntFunction<String> row) {
    StringBuilder rows = new StringBuilder();
    IntStream.range(0, n).forEach(k -> rows.append(row.apply(k)).append('\n'));
    return rows.toString();
  }

  private static String f(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }

  private Spoken imported(String csv) throws IOException {
    Path file = Files.writeString(folder.resolve("x.csv"), csv);
    return Spoken.by("import", file.toString(), "--logbook", logbook(), "--quiet");
  }

  private String logbook() {
    return folder.resolve("x.db").toString();
  }

  /** Imports and analyses; whatever is found has the form that is promised. */
  private List<JsonNode> results(String csv, int code) throws IOException {
    Spoken said = imported(csv);
    assertEquals(0, said.code(), said.err());
    Spoken analysed = Spoken.by("analyze", "1", "--logbook", logbook(), "--json");
    assertEquals(code, analysed.code(), analysed.err());
    JsonNode document = Schemas.json(analysed.out());
    assertEquals(List.of(), Schemas.complaints(SchemaCommand.Kind.results, document));
    List<JsonNode> results = new ArrayList<>();
    document.get("results").forEach(results::add);
    for (JsonNode result : notEmpty(results)) {
      boolean told = result.get("value").isNumber();
      assertEquals(told, result.get("missing").isNull(), result.toString());
    }
    return results;
  }

  private static JsonNode only(List<JsonNode> results, String quantity) {
    List<JsonNode> found =
        results.stream().filter(r -> r.get("quantity").asText().equals(quantity)).toList();
    assertEquals(1, found.size(), quantity);
    return found.get(0);
  }

  private static String missing(List<JsonNode> results, String quantity) {
    return only(results, quantity).get("missing").asText();
  }

  @Test
  void ofConstantDataTheResistanceIsABoundAndNoKneeIsTold() throws IOException {
    List<JsonNode> results = results(LOADS + rows(12, k -> "1mA,0.001,0.001," + 100 * k), 0);
    assertEquals("above", only(results, "output_resistance").get("bound").asText());
    assertEquals("above", only(results, "compliance_voltage").get("bound").asText());
    assertTrue(missing(results, "knee_voltage").startsWith("no knee found"));
  }

  @Test
  void whatALoadDoesToAStraightLineByArithmeticAloneIsNoKnee() throws IOException {
    List<JsonNode> results =
        results(LOADS + rows(8, k -> f("1mA,0.001,%.10f,%d", 0.001 - k * 1e-10, 100 * k)), 0);
    assertTrue(missing(results, "knee_voltage").startsWith("no knee found"));
  }

  @Test
  void twoPointsHaveAnErrorButNoSlope() throws IOException {
    List<JsonNode> results = results(LOADS + "1mA,0.001,0.00100001,0\n1mA,0.001,0.001,1000\n", 0);
    assertEquals(10, only(results, "current_error").get("value").asDouble(), 1e-6);
    assertEquals(
        "2 loads with steady readings, needs at least 3: add loads to the sweep",
        missing(results, "output_conductance"));
  }

  /** Truth by construction: readings of 0.1 nA, from take to take 2 nA, loads up and down. */
  @Test
  void whatScattersFromTakeToTakeIsNotAveragedAwayOverReadings() throws IOException {
    SplittableRandom random = new Seeds(4).stream("takes");
    StringBuilder csv = new StringBuilder("range,nominal_A,current_A,load_ohm,time_s\n");
    for (int k = 0; k < 24; k++) {
      double take = 1e-3 + 2e-9 * random.nextGaussian();
      for (int i = 0; i < 8; i++) {
        double read = take + 1e-10 * random.nextGaussian();
        csv.append(f("1mA,0.001,%.13f,%d,%d%n", read, 100 * Math.min(k, 23 - k), 8 * k + i));
      }
    }
    JsonNode current = only(results(csv.toString(), 0), "current");
    JsonNode largest = current.get("budget").get(0);
    assertEquals("scatter between repeats", largest.get("component").asText());
    // 24 takes, less those of 12 means and a drift: known to 20 %.
    assertEquals(2e-9, largest.get("value").asDouble(), 1e-9);
  }

  @Test
  void oneTemperatureGivesNoTempco() throws IOException {
    String header = "range,nominal_A,current_A,temperature_degC\n";
    List<JsonNode> results =
        results(header + rows(6, k -> f("1mA,0.001,%.9f,23", 0.001 + k * 1e-9)), 0);
    assertEquals(
        "1 temperature, needs at least 2 that differ by 5 K or more", missing(results, "tempco"));
    assertEquals(
        "T_ref visited once: hysteresis not measured", missing(results, "thermal_hysteresis"));
  }

  @Test
  void pastTheKneeThereIsNoPlateau() throws IOException {
    List<JsonNode> results =
        results(
            LOADS + rows(12, k -> f("1mA,0.001,%.9g,%d", 5.0 / (8000 + 1000 * k), 8000 + 1000 * k)),
            0);
    assertTrue(missing(results, "output_conductance").startsWith("the voltage stands at 5"));
  }

  @Test
  void nothingButFlaggedReadingsCannotBeAnalysed() throws IOException {
    String csv = LOADS + "1mA,0.001,NaN,0\n1mA,0.001,inf,1\n1mA,0.001,9.9E37,2\n1mA,0.001,,3\n";
    assertEquals(0, imported(csv).code());
    Spoken analysed = Spoken.by("analyze", "1", "--logbook", logbook(), "--json");
    assertEquals(6, analysed.code());
    assertTrue(
        analysed
            .err()
            .contains(
                "run 1 has no current to compute anything from: at each point it is missing"));
  }

  @Test
  void aFlaggedPointIsCountedAndTheOthersAreUsed() throws IOException {
    List<JsonNode> results =
        results(
            LOADS
                + rows(
                    8,
                    k ->
                        f(
                            "1mA,0.001,%s,%d",
                            k == 3 ? "nan" : f("%.10f", 0.001 - k * 1e-9), 100 * k)),
            7);
    assertEquals(1e-8, only(results, "output_conductance").get("value").asDouble(), 1e-10);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "range,nominal_A,current_A,load_ohm        | 1mA,0.001,0.001,NaN    | 'load_ohm' has 'NaN'",
        "range,nominal_A,current_A,load_ohm        | 1mA,0.001,0.001,inf    | 'load_ohm' has 'inf'",
        "range,nominal_A,current_A,u_current_A     | 1mA,0.001,0.001,-1e-9  | has '-1e-9'",
        "range,nominal_A,current_A                 | 1mA,0,0.001            | 'nominal_A' has '0'",
        "range,nominal_A,current_A,temperature_degC| 1mA,0.001,0.001,-300   | has '-300'",
      })
  void refuses(String header, String row, String complaint) throws IOException {
    Spoken said = imported(header + "\n" + row + "\n");
    assertEquals(2, said.code());
    assertTrue(said.err().contains(complaint), said.err());
    assertTrue(said.err().contains("x.csv:2:"), said.err());
    assertFalse(Files.exists(Path.of(logbook())));
  }

  @Test
  void whereZeroIsStatedForErrorsTheScatterStandsIn() throws IOException {
    List<JsonNode> results =
        results(
            "range,nominal_A,current_A,load_ohm,u_current_A\n"
                + rows(
                    8, k -> f("1mA,0.001,%.10f,%d,0", 0.001 - k * 1e-9 + (k % 2) * 1e-10, 100 * k)),
            0);
    JsonNode slope = only(results, "output_conductance");
    assertEquals(1e-8, slope.get("value").asDouble(), slope.get("expanded_uncertainty").asDouble());
  }

  @Test
  void singleReadingsAreAsNoisyAsTheRepeatedOnesOfTheirRange() throws IOException {
    SplittableRandom random = new Seeds(4).stream("noise");
    String csv =
        LOADS
            + rows(
                30,
                k -> f("1mA,0.001,%.12f,%d", 0.001 + 1e-9 * random.nextGaussian(), k < 20 ? 0 : k));
    JsonNode slope = only(results(csv, 0), "output_conductance");
    assertEquals("meter noise", slope.at("/budget/0/component").asText());
    assertEquals(1e-9, slope.at("/budget/0/value").asDouble(), 0.5e-9);
  }

  @Test
  void timesThatRunBackwardsAreKeptAndSaidAndPutInOrder() throws IOException {
    SplittableRandom random = new Seeds(5).stream("noise");
    String csv =
        "range,nominal_A,current_A,load_ohm,time_s\n"
            + rows(
                200,
                k -> f("1mA,0.001,%.12f,100,%d", 0.001 + 1e-9 * random.nextGaussian(), 1000 - k));
    List<JsonNode> results = results(csv, 0);
    JsonNode drift = only(results, "drift");
    assertTrue(drift.get("notes").toString().contains("times ran backwards"));
    assertTrue(
        Math.abs(drift.get("value").asDouble()) < drift.get("expanded_uncertainty").asDouble());
  }

  @Test
  void readingsThatAreAllAlikeHaveNoNoise() throws IOException {
    String csv =
        "range,nominal_A,current_A,load_ohm,time_s\n" + rows(100, k -> "1mA,0.001,0.001,100," + k);
    List<JsonNode> results = results(csv, 0);
    assertTrue(missing(results, "noise_rms").contains("below their resolution"));
    for (JsonNode r : notEmpty(results)) {
      if (r.get("quantity").asText().equals("allan_deviation")) {
        assertTrue(r.get("missing").asText().contains("below their resolution"));
      }
    }
  }

  @Test
  void manyReadingsAPointOfASweepAreNoRecordOverTime() throws IOException {
    String csv =
        "range,nominal_A,current_A,load_ohm,time_s\n"
            + rows(150, k -> f("1mA,0.001,%.12f,%d,%d", 0.001 + (k * 7 % 5) * 1e-10, k / 30, k));
    List<JsonNode> results = results(csv, 0);
    assertTrue(
        notEmpty(results).stream().noneMatch(r -> r.get("quantity").asText().equals("drift")));
  }

  @Test
  void oneLoadOutOfAllBoundsDoesNotEndTheAnalysis() throws IOException {
    List<JsonNode> results =
        results(LOADS + rows(8, k -> f("1mA,0.001,%s,%d", k == 4 ? "1e30" : "0.001", 100 * k)), 0);
    assertTrue(only(results, "current_error").get("value").isNumber());
  }

  @Test
  void farMorePointsThanAStudyNeedsAreTakenTogetherByLoad() throws IOException {
    SplittableRandom random = new Seeds(6).stream("noise");
    String csv =
        "range,nominal_A,current_A,load_ohm,time_s,u_current_A\n"
            + rows(
                21_000,
                k ->
                    f(
                        "1mA,0.001,%.13f,%d,%d,1e-9",
                        0.001 - (k % 10) * 1e-9 + 1e-9 * random.nextGaussian(), k % 10 * 100, k));
    List<JsonNode> results = results(csv, 0);
    JsonNode slope = only(results, "output_conductance");
    assertEquals(1e-8, slope.get("value").asDouble(), slope.get("expanded_uncertainty").asDouble());
    assertEquals(
        1e-9 / Math.sqrt(21_000) / 0.287,
        slope.get("standard_uncertainty").asDouble(),
        0.05 * 1e-9 / Math.sqrt(21_000) / 0.287);
  }

  @Test
  void trialsOnRequestSayWhetherTheyAgree() throws IOException {
    SplittableRandom random = new Seeds(7).stream("noise");
    String csv =
        "range,nominal_A,current_A,load_ohm,u_current_A\n"
            + rows(
                6,
                k -> f("1mA,0.001,%.13f,%d,1e-9", 0.001 + 1e-9 * random.nextGaussian(), k * 1000));
    assertEquals(0, imported(csv).code());
    Path page = folder.resolve("page.html");
    String out = page.toString();
    Spoken.done("report", "1", "--logbook", logbook(), "--monte-carlo", "--seed", "3", "-o", out);
    String said = Files.readString(page);
    // Two batches at least; how many more the figures ask for is theirs.
    assertTrue(Pattern.compile("Monte Carlo, [234]0000 trials").matcher(said).find(), said);
    assertTrue(said.contains("with an interval agree with their trials; 0 disagree"), said);
  }

  /**
   * Scatter near the bound of what counts as curved is beyond it in every third trial, whose
   * readings carry their noise twice: trials that decide anew then find a tempco twice as
   * uncertain.
   */
  @Test
  @Tag("campaign")
  void trialsKeepToWhatWasDecidedOfASweepAndSayTogetherHowManyAgree() throws IOException {
    StringBuilder csv =
        new StringBuilder("range,nominal_A,current_A,load_ohm,temperature_degC,u_current_A\n");
    double[] bow = {0.6, -1.2, 0.6};
    for (int degC : new int[] {23, 5, 40}) {
      for (int k = 0; k < bow.length; k++) {
        double amperes = 1e-3 * (1 + 2e-6 * (degC - 23) + 1e-6 * bow[k]);
        csv.append(f("1mA,0.001,%.13f,%d,%d,1e-9%n", amperes, 1000 * k, degC));
      }
    }
    assertEquals(0, imported(csv.toString()).code());
    Spoken told = Spoken.done("analyze", "1", "--logbook", logbook(), "--monte-carlo");
    // The terminal folds the sentence where it is full.
    String said = told.out().replaceAll("\\s+", " ");
    assertTrue(said.contains("agree with their trials; 0 disagree"), told.out());
  }

  private List<JsonNode> tried(String csv) throws IOException {
    assertEquals(0, imported(csv).code());
    Spoken analysed =
        Spoken.done(
            "analyze", "1", "--logbook", logbook(), "--json", "--monte-carlo", "--seed", "3");
    List<JsonNode> results = new ArrayList<>();
    JsonNode document = Schemas.json(analysed.out());
    document.get("results").forEach(results::add);
    assertCounted(document.get("monte_carlo"), results);
    return results;
  }

  /** The count of those that agree is that of their notes. */
  private static void assertCounted(JsonNode count, List<JsonNode> results) {
    long agree =
        results.stream()
            .map(r -> r.get("notes").toString())
            .filter(n -> n.contains("it agrees with") || n.contains("interval encloses it"))
            .count();
    assertEquals(agree, count.get("agree").asLong(), count::toString);
    long all = agree;
    for (String other : List.of("disagree", "undecided", "without_trials")) {
      all += count.get(other).asLong();
    }
    assertEquals(count.get("results_with_interval").asLong(), all, count::toString);
  }

  private static void assertTried(List<JsonNode> results, String quantity) {
    JsonNode result =
        results.stream()
            .filter(r -> r.get("quantity").asText().equals(quantity) && r.get("value").isNumber())
            .findFirst()
            .orElseThrow(() -> new AssertionError("no " + quantity + " among " + results));
    String notes = result.get("notes").toString();
    assertTrue(notes.contains("Monte Carlo"), quantity + ": " + notes);
    assertFalse(notes.contains("disagree"), quantity + ": " + notes);
  }

  @Test
  @Tag("campaign")
  void trialsGoBesideResultsOverTimeAndOverSupply() throws IOException {
    SplittableRandom random = new Seeds(11).stream("record");
    List<JsonNode> results =
        tried(
            "range,nominal_A,current_A,load_ohm,time_s,supply_V,u_current_A\n"
                + rows(
                    60,
                    k -> f("1mA,0.001,%.13f,0,%d,15,1e-9", 0.001 + 1e-9 * random.nextGaussian(), k))
                + rows(
                    5,
                    k ->
                        f(
                            "100uA,0.0001,%.14f,1000,%d,%d,1e-10",
                            1e-4 + 1e-9 * k + 1e-10 * random.nextGaussian(), 100 + k, 14 + k)));
    assertTried(results, "drift");
    assertTried(results, "noise_rms");
    assertTried(results, "allan_deviation");
    assertTried(results, "supply_regulation");
  }

  @Test
  @Tag("campaign")
  void trialsGoBesideWhatNeighbouringRangesTellOfOneAnother() throws IOException {
    SplittableRandom random = new Seeds(12).stream("pair");
    List<JsonNode> results =
        tried(
            "range,nominal_A,current_A,temperature_degC,meter_range,u_current_A\n"
                + rows(
                    5,
                    k ->
                        f(
                                "1mA,0.001,%.13f,%d,10mA,1e-9\n",
                                0.001 + 1e-9 * (2 * k + random.nextGaussian()), 15 + 5 * k)
                            + f(
                                "2mA,0.002,%.13f,%d,10mA,1e-9",
                                0.002 + 1e-9 * random.nextGaussian(), 15 + 5 * k)));
    assertTried(results, "tracking");
    assertTried(results, "tempco");
  }

  @Test
  @Tag("campaign")
  void trialsOfAnEnclosureSayThatTheyLieInsideIt() throws IOException {
    SplittableRandom random = new Seeds(13).stream("knee");
    List<JsonNode> results =
        tried(
            LOADS.strip()
                + ",u_current_A\n"
                + rows(
                    14,
                    k ->
                        f(
                            "1mA,0.001,%.13f,%d,1e-9",
                            Math.min(0.001, 9.8 / (1 + k) / 1000 + 1e-5)
                                + 1e-9 * random.nextGaussian(),
                            (1 + k) * 1000)));
    String notes = only(results, "compliance_voltage").get("notes").toString();
    assertTrue(notes.contains("the stated interval encloses it"), notes);
  }
}
