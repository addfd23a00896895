// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
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

  private static final Path FIGURES = Path.of("target/verification/plan-cause.txt");

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

  @Test
  @Tag("campaign")
  void theTrueCauseIsNamedInNineteenOfTwentyConfusedUnits() throws IOException {
    int confused = 0;
    List<String> wrong = new ArrayList<>();
    for (long seed = 1; seed <= 3; seed++) {
      for (Case c : cases()) {
        Path own = Files.createTempDirectory(folder, "unit");
        ConfusedCauses.Told told = new ConfusedCauses(own, c.look(), c.defects(), seed).told();
        confused += told.before().get("identified").isNull() ? 1 : 0;
        if (!told.after().get("identified").asText().equals(c.cause())) {
          wrong.add(c.cause() + " " + seed + ": " + told.after().get("identified"));
        }
      }
    }
    int units = 3 * cases().size();
    Files.createDirectories(FIGURES.getParent());
    Files.writeString(
        FIGURES,
        "%s of %s units confused, the true cause named in all but %s: %s%n"
            .formatted(confused, units, wrong.size(), wrong));
    assertTrue(confused >= 20, confused + " confused");
    assertTrue(wrong.size() <= 0.05 * units, wrong.toString());
  }

  @Test
  void whereNothingWasFoundToBeAbnormalNothingIsNeeded() throws IOException {
    ConfusedCauses.Told told = new ConfusedCauses(folder, LOOK, List.of(), 6).told();
    assertEquals("nothing abnormal", told.before().get("identified").asText());
    assertEquals(0, told.before().get("not_separated").size());
    assertTrue(told.sequence().isEmpty());
  }
}
