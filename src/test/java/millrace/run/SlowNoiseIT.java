// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.function.Predicate;
import millrace.evidence.BudgetComponent;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.sim.truth.SimulatedUnitSpec;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A unit whose noise does not average out: its points are no better known than it lets them be. */
@Timeout(120)
class SlowNoiseIT {
  private static final String SWEEP =
      """
      sequence: slow noise
      readings: {count: 8, line cycles: 1}
      settle: {wait: 100 ms}
      steps:
        - in ranges: [1mA]
          do:
            - zero
            - over loads: {share of compliance: {from: 0 %, to: 50 %, points: 12}}
              sweep: both
      """;

  private static final String WATCH =
      SWEEP.substring(0, SWEEP.indexOf("      - over"))
          + """
                - over loads: {share of compliance: [0 %, 10 %, 20 %, 30 %]}
                  sweep: up
                - over loads: {share of compliance: [0 %]}
                  sweep: as listed
                  do:
                    - watch: {for: 8 min, every: 1 s}
          """
              .indent(0);

  @TempDir private Path folder;

  private static SimulatedUnitSpec flickering(double perDecade) {
    SimulatedUnitSpec demo = SimulatedUnitSpec.demo();
    return new SimulatedUnitSpec(
        demo.ranges(),
        demo.warmth(),
        new SimulatedUnitSpec.Noise(demo.noise().white(), perDecade),
        demo.kneeSoftnessV(),
        demo.supplyPerV(),
        demo.defects());
  }

  private boolean names(
      String sequence, SimulatedUnitSpec unit, Predicate<BudgetComponent> component)
      throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, sequence, unit)) {
      night.run();
      Result current =
          night.assessed(night.file()).results().stream()
              .filter(r -> r.quantity() == ResultQuantity.CURRENT_ERROR)
              .findFirst()
              .orElseThrow();
      return current.budget().stream().anyMatch(component);
    }
  }

  @Test
  void scatterBetweenRepeatsCountsWhereItExceedsThatOfReadings() throws IOException {
    assertTrue(
        names(SWEEP, flickering(8e-6), c -> c.component().equals("scatter between repeats")));
  }

  @Test
  void aSteadyUnitHasTheNoiseOfItsReadings() throws IOException {
    assertFalse(names(SWEEP, flickering(0), c -> c.component().equals("scatter between repeats")));
  }

  /** White noise alone makes less than 1 ppm of the means. */
  private static boolean noisy(BudgetComponent of) {
    return of.component().equals("noise of the readings") && of.contribution() > 3;
  }

  @Test
  void flickerNoiseThatWasWatchedCounts() throws IOException {
    assertTrue(names(WATCH, flickering(8e-6), SlowNoiseIT::noisy));
  }

  @Test
  void aSteadyUnitThatWasWatchedIsNoNoisierForIt() throws IOException {
    assertFalse(names(WATCH, flickering(0), SlowNoiseIT::noisy));
  }
}
