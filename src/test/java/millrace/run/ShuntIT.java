// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import millrace.bench.BenchFile;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.sim.truth.SimulatedBenchSpec;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * A bench without a current meter: a voltmeter of 10 Mohm across a shunt of 100 ohm that was
 * calibrated at 20 degC and sits in a room of 23 degC. The truth is the simulated unit's own; what
 * the shunt does is methods.md 1.2 once more, written by hand in the simulation.
 */
@Timeout(120)
class ShuntIT {
  private static final String SWEEP =
      """
      sequence: through a shunt
      readings: {count: 5, line cycles: 10}
      settle: {wait: 100 ms}
      steps:
        - in ranges: [1mA]
          do:
            - zero
            - over loads: {share of compliance: {from: 0 %, to: 80 %, points: 5}}
              sweep: both
      """;

  private static final String METER =
      "(?s)current meter:\n"
          + "        input at most: 1 kV\n"
          + "        accuracy:\n"
          + ".*?(?=  voltmeter:\n"
          + "    driver)";

  private static final String ACROSS =
      """
      shunt voltmeter:
              accuracy:
                - {reading: 12 ppm, full scale: 2 ppm, transfer: 0.2 ppm, input resistance: 10 Mohm}
      """;

  private static final SimulatedBenchSpec SPEC =
      SimulatedBenchSpec.demo()
          .with(
              new SimulatedBenchSpec.ShuntSpec(100, 8e-6, 20e-6, 0, 40e-6),
              new SimulatedBenchSpec.MeterSpec(
                  List.of(0.1, 1.0, 10.0),
                  12e-6,
                  2e-6,
                  0.2e-6,
                  List.of(10e6, 10e6, 10e6),
                  0.01,
                  1e-6,
                  0.1e-6,
                  0));

  @TempDir private Path folder;

  /** As {@link #SPEC} states it: the shunt of 100 ohm at 23 degC has 99.994 ohm at 20 degC. */
  private static String file(String text) {
    return text.replaceFirst(METER, ACROSS)
        .replace("lab thermometer: {}", "lab thermometer: {}\n      shunt thermometer: {}")
        .replace(
            "wiring:",
            "wiring:\n  shunt: {value: 99.994 ohm, u: 4.7 ppm, tempco: 20.0012 ppm/K,"
                + " power coefficient: 40 ppm/W, calibrated at: 20 degC}");
  }

  private static Result current(SimulatedNight night, BenchFile bench) {
    return night.assessed(bench).results().stream()
        .filter(r -> r.quantity() == ResultQuantity.CURRENT)
        .findFirst()
        .orElseThrow();
  }

  private static double ppmOffTruth(SimulatedNight night, Result result) {
    double truth = night.bench().unit("1").truth("1mA", 23).currentA(0);
    return (((ComputationOutcome.Value) result.outcome()).value() / truth - 1) * 1e6;
  }

  private static double standardPpm(Result result) {
    ComputationOutcome.Value value = (ComputationOutcome.Value) result.outcome();
    return value.uncertainty().orElseThrow().standard() / value.value() * 1e6;
  }

  @Test
  void theCurrentIsThatThroughTheShuntAsItWas() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, SWEEP, SPEC, ShuntIT::file)) {
      assertTrue(Whole.is(night.run()));
      Result found = current(night, night.file());
      double u = standardPpm(found);
      // 4.7 ppm of the shunt, 12 ppm and 2 ppm over the root of 3 of the voltmeter.
      assertEquals(8.4, u, 0.5, found.toString());
      assertEquals(0, ppmOffTruth(night, found), 2.5 * u, found.toString());
      List<String> parts = found.budget().stream().map(BudgetComponent::component).toList();
      assertTrue(
          parts.containsAll(List.of("meter gain, ammeter 100 mV", "shunt")), parts.toString());
      theShuntsOwnDoings(night, ppmOffTruth(night, found));
      assertEquals(List.of(), night.bench().mistreatments());
    }
  }

  /** The thermometer of the shunt reads what that at the unit does. */
  @Test
  void aShuntInsideTheChamberIsNotMeasuredWith() throws IOException {
    String hot =
        """
        sequence: a shunt beside the unit
        readings: {count: 2, line cycles: 1}
        settle: {wait: 100 ms}
        steps:
          - at temperatures: [40 degC]
            soak: {within: 20 ppm, at least: 40 min, at most: 60 min}
            do:
              - in ranges: [1mA]
                do:
                  - over loads: {resistance: [0 ohm]}
                    sweep: up
        """;
    try (SimulatedNight night =
        SimulatedNight.of(
            folder,
            hot,
            SPEC,
            text ->
                file(text)
                    .replace("\n      shunt thermometer: {}", "")
                    .replace(
                        "unit thermometer:", "shunt thermometer: {}\n      unit thermometer:"))) {
      night.run();
      assertTrue(
          night.points().stream()
              .anyMatch(
                  p ->
                      p.reason().startsWith("the shunt is at 39")
                          || p.reason().startsWith("the shunt is at 40")),
          night.points().toString());
    }
  }

  /** What each part of the formula makes, by leaving it out: 2.8 K; what the meter said counts. */
  private static void theShuntsOwnDoings(SimulatedNight night, double whole) {
    BenchFile cold = SimulatedNight.edited(night, "tempco: 20.0012 ppm/K", "tempco: 0 ppm/K");
    assertEquals(56, ppmOffTruth(night, current(night, cold)) - whole, 8);
    BenchFile open = SimulatedNight.edited(night, "input resistance: 10 Mohm", "k: 1.73");
    // The 10 ppm through the meter stay: it was asked for its input resistance itself.
    assertEquals(0, ppmOffTruth(night, current(night, open)) - whole, 0.5);
    // A certificate that came later; the readings are those of the run.
    BenchFile later = SimulatedNight.edited(night, "value: 99.994 ohm", "value: 99.984 ohm");
    assertEquals(100, ppmOffTruth(night, current(night, later)) - whole, 0.5);
  }
}
