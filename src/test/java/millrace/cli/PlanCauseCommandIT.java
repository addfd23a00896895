// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import millrace.quantity.NumberText;
import millrace.sim.truth.SimulatedUnitSpec.Defect;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** Causes that a run leaves together: planned for, measured, and then told. */
class PlanCauseCommandIT {
  private static final String LOOK =
      """
      sequence: look
      readings: {count: 5, line cycles: 1}
      steps:
        - in slots: all
          do:
            - trial lap
            - in ranges: all
              do:
                - zero
                - over loads: {share of compliance: [1 %, 25 %, 50 %, 80 %]}
                  sweep: up
      """;

  private static final Path FIGURES = Path.of("target/verification");

  @TempDir private Path folder;

  /** A single load: what rises with the voltage looks like what does not. */
  private static final String ONE_LOAD = LOOK.replace("[1 %, 25 %, 50 %, 80 %]", "[50 %]");

  private static List<Defect> network(double size) {
    return Stream.of("R1", "R2", "R3", "R4", "R5").map(r -> new Defect(r, size)).toList();
  }

  /** A fault, and the look at the unit that leaves some of its causes together. */
  private record Case(String cause, String look, List<Defect> defects) {}

  /** Together with the seeds 3 times 14 units, no two of them alike. */
  private static List<Case> cases() {
    return List.of(
        new Case("reference error REF", LOOK, List.of(new Defect("REF", 500e-6))),
        new Case("leakage to ground L1", ONE_LOAD, List.of(new Defect("L1", 60))),
        new Case("range resistor R5", ONE_LOAD, List.of(new Defect("R5", 700e-6))),
        new Case("reference error REF", LOOK, List.of(new Defect("REF", -300e-6))),
        new Case("reference error REF", ONE_LOAD, List.of(new Defect("REF", -400e-6))),
        new Case("amplifier offset A1", LOOK, List.of(new Defect("A1", 1.5e-3))),
        new Case("amplifier offset A1", LOOK, List.of(new Defect("A1", -1e-3))),
        new Case("amplifier offset A1", ONE_LOAD, List.of(new Defect("A1", -1.2e-3))),
        new Case("resistor network N1", LOOK, network(500e-6)),
        new Case("resistor network N1", LOOK, network(-700e-6)),
        new Case("resistor network N1", ONE_LOAD, network(-600e-6)),
        new Case("leakage to ground L1", ONE_LOAD, List.of(new Defect("L1", 30))),
        new Case("range resistor R5", ONE_LOAD, List.of(new Defect("R5", -600e-6))),
        new Case("range resistor R4", ONE_LOAD, List.of(new Defect("R4", 600e-6))));
  }

  static Stream<Arguments> some() {
    return cases().stream().limit(3).map(c -> Arguments.of(c.cause(), c.look(), c.defects()));
  }

  @ParameterizedTest
  @MethodSource("some")
  void theTrueCauseIsNamedAfterThePlannedMeasurement(
      String cause, String look, List<Defect> defects) throws IOException {
    ConfusedCauses.Told told = new ConfusedCauses(folder, look, defects, 1).told();
    assertTrue(told.before().get("identified").isNull(), () -> told.before().toString());
    assertTrue(told.before().get("not_separated").toString().contains(cause));
    assertEquals(cause, told.after().get("identified").asText());
  }

  /** How often the planned measurement was said to name the true cause, and how often it did. */
  private static final class Tally {
    private int units;
    private int confused;
    private int right;
    private double predicted;
    private double variance;
    private final List<String> wrong = new ArrayList<>();

    void add(String cause, ConfusedCauses.Told told) {
      units++;
      if (!told.before().get("identified").isNull()) {
        return;
      }
      confused++;
      JsonNode gain = told.before().get("plan").get("gain");
      double cases = gain.get("cases").asDouble();
      // one more of each, so that 40 of 40 leave some doubt
      double share = (gain.get("right_alone").asDouble() + 1) / (cases + 2);
      predicted += share;
      variance += share * (1 - share);
      if (told.after().get("identified").asText().equals(cause)) {
        right++;
      } else {
        wrong.add(cause + ": " + told.after().get("identified"));
      }
    }

    String line() {
      return "%s of %s units confused; the true cause named in %s, predicted %s; otherwise: %s"
          .formatted(confused, units, right, NumberText.significant(predicted, 3), wrong);
    }

    /** What was predicted came out, to three standard deviations. */
    void isTrue() {
      double room = 3 * Math.sqrt(variance);
      assertTrue(right >= predicted - room && predicted >= right - room - 1, line());
    }

    void write(String name) throws IOException {
      Files.writeString(Files.createDirectories(FIGURES).resolve(name), line() + "\n");
    }
  }

  @Test
  @Tag("campaign")
  void theTrueCauseIsNamedInNineteenOfTwentyConfusedUnits() throws IOException {
    Tally tally = new Tally();
    for (long seed = 1; seed <= 3; seed++) {
      for (Case c : cases()) {
        Path own = Files.createTempDirectory(folder, "unit");
        tally.add(c.cause(), new ConfusedCauses(own, c.look(), c.defects(), seed).told());
        tally.write("plan-cause.txt");
      }
    }
    assertTrue(tally.confused >= 20, tally.line());
    assertTrue(tally.right >= 0.95 * tally.confused, tally.line());
    tally.isTrue();
  }

  /** A few loads of one range, hot and cold: a slope, of whatever part. */
  private static final String WARM_LOOK =
      """
      sequence: look
      readings: {count: 5, line cycles: 1}
      steps:
        - at temperatures: [23 degC, 43 degC, 23 degC]
          ramp: 2 K/min
          soak: {within: 5 ppm, at least: 10 min, at most: 1 h, if it takes longer: go on flagged}
          do:
            - in ranges: [RANGES]
              do:
                - zero
                - over loads: {share of compliance: [1 %, 50 %, 80 %]}
                  sweep: up
      """;

  private static final String KNEE_LOOK =
      """
      sequence: look
      readings: {count: 5, line cycles: 1}
      steps:
        - in slots: all
          do:
            - trial lap
            - in ranges: [1mA]
              do:
                - zero
                - over loads: {share of compliance: [1 %, 25 %, 50 %]}
                  sweep: up
                - find the knee
      """;

  /** A fault that shows with temperature, in the headroom, or outside the unit. */
  private record FurtherCase(
      String cause, String look, boolean bipolar, ConfusedCauses.Fault fault) {
    private static FurtherCase of(String cause, String look, Defect... defects) {
      return new FurtherCase(cause, look, false, new ConfusedCauses.Fault(List.of(defects), 0));
    }
  }

  private static String warm(String ranges) {
    return WARM_LOOK.replace("RANGES", ranges);
  }

  private static List<FurtherCase> furtherCases() {
    return List.of(
        FurtherCase.of("reference tempco REF", warm("1mA"), new Defect("REF tempco", 25e-6)),
        FurtherCase.of("range resistor tempco R2", warm("1mA"), new Defect("R2 tempco", 30e-6)),
        FurtherCase.of(
            "resistor network tempco N1",
            warm("1mA, 10mA"),
            Stream.of("R1", "R2", "R3", "R4", "R5")
                .map(r -> new Defect(r + " tempco", 30e-6))
                .toArray(Defect[]::new)),
        FurtherCase.of("early knee D1", KNEE_LOOK, new Defect("D1", 2.5)),
        new FurtherCase(
            "base-current loss Q1",
            ONE_LOAD,
            true,
            new ConfusedCauses.Fault(List.of(new Defect("Q1", -0.6)), 0)),
        new FurtherCase("meter gain", LOOK, false, new ConfusedCauses.Fault(List.of(), 150e-6)));
  }

  /** The shipped unit with a bipolar transistor in the place of its pass device. */
  private Path bipolar() throws IOException {
    String sheet = Files.readString(Path.of("examples/fx-3.datasheet.yaml"));
    String gate = "type: insulated gate, gate leakage: 1 fA";
    assertTrue(sheet.contains(gate));
    return Files.writeString(
        folder.resolve("bipolar.datasheet.yaml"), sheet.replace(gate, "type: bipolar, beta: 400"));
  }

  private ConfusedCauses.Told told(FurtherCase c, Path bipolar, long seed) throws IOException {
    Path own = Files.createTempDirectory(folder, "unit");
    Path sheet = c.bipolar() ? bipolar : Path.of("examples/fx-3.datasheet.yaml");
    return new ConfusedCauses(own, sheet, c.look(), c.fault(), seed).told();
  }

  /** Tempco, headroom, base current and the meter itself. */
  @Test
  @Tag("campaign")
  void faultsOfTemperatureHeadroomAndMeterAreNamedToo() throws IOException {
    Tally tally = new Tally();
    Path bipolar = bipolar();
    int seeds = Integer.getInteger("millrace.causes.seeds", 3);
    for (FurtherCase c : furtherCases()) {
      for (long seed = 1; seed <= seeds; seed++) {
        tally.add(c.cause(), told(c, bipolar, seed));
        tally.write("plan-cause-further.txt");
      }
    }
    assertTrue(tally.right >= 0.9 * tally.confused, tally.line());
    tally.isTrue();
  }

  @Test
  void anEarlyKneeIsNamedAfterThePlannedMeasurement() throws IOException {
    FurtherCase knee =
        furtherCases().stream()
            .filter(c -> c.cause().startsWith("early"))
            .findFirst()
            .orElseThrow();
    Tally tally = new Tally();
    tally.add(knee.cause(), told(knee, bipolar(), 1));
    assertEquals(1, tally.right, tally.line());
  }

  @Test
  void whereNothingWasFoundToBeAbnormalNothingIsNeeded() throws IOException {
    ConfusedCauses.Told told = new ConfusedCauses(folder, LOOK, List.of(), 6).told();
    assertEquals("nothing abnormal", told.before().get("identified").asText());
    assertEquals(0, told.before().get("not_separated").size());
    assertTrue(told.sequence().isEmpty());
  }
}
