// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import millrace.analysis.reduction.MeterDrift;
import millrace.assessment.Assessment;
import millrace.bench.BenchFile;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.IncidentKind;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.PointKind;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.sim.truth.SimulatedBenchSpec;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A meter that drifts through a night, and a check standard that tells it. */
@Timeout(120)
class SimulatedCheckStandardIT {
  private static final String NIGHT =
      """
      sequence: a drifting meter
      readings: {count: 5, line cycles: 10}
      settle: {wait: 100 ms}
      steps:
        - check standard: all
        - at temperatures: [23 degC, 35 degC, 23 degC]
          soak: {within: 20 ppm, at least: 40 min, at most: 90 min}
          do:
            - check standard: all
            - in ranges: [1mA, 100uA]
              do:
                - zero
                - over loads: {share of compliance: [0 %, 25 %, 50 %]}
                  sweep: up
        - check standard: all
        - in ranges: [1mA]
          do:
            - over loads: {share of compliance: [0 %]}
              sweep: as listed
              do:
                - watch: {for: 30 min, every: 30 s}
        - check standard: all
      """;

  private static final String STANDARD = "steady: \\{position: S, current: 1 mA, u: 4.7 nA}";

  @TempDir private Path folder;

  /** Some tens of ppm an hour: a meter that is out of order. */
  private static SimulatedBenchSpec drifting() {
    return SimulatedBenchSpec.demo().with(SimulatedBenchSpec.demo().ammeter().drifting(10_000e-6));
  }

  private static Result result(Assessment assessment, ResultQuantity quantity, String range) {
    return assessment.results().stream()
        .filter(r -> r.quantity() == quantity && r.range().equals(Optional.of(range)))
        .findFirst()
        .orElseThrow();
  }

  private static ComputationOutcome.Value value(Result result) {
    return (ComputationOutcome.Value) result.outcome();
  }

  private static boolean holds(Result result, double truth) {
    ComputationOutcome.Uncertainty u = value(result).uncertainty().orElseThrow();
    return u.lower() <= truth && truth <= u.upper();
  }

  @Test
  void theDriftOfTheMeterIsTakenOffWhereAStandardTellsItAndWidensOtherRanges() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, NIGHT, drifting())) {
      assertTrue(Whole.is(night.run()));
      Assessment told = night.assessed(night.file());
      double tempco = 1e6 * night.bench().unit("1").tempcoPerK("1mA", 0, List.of(23.0, 35.0));
      assertHolds(result(told, ResultQuantity.TEMPCO, "1mA"), tempco, MeterDrift.READING);
      assertHolds(result(told, ResultQuantity.DRIFT, "1mA"), 0, MeterDrift.READING);
      Result hysteresis = result(told, ResultQuantity.THERMAL_HYSTERESIS, "1mA");
      assertTrue(
          result(told, ResultQuantity.TEMPCO, "100uA").budget().stream()
              .anyMatch(c -> c.component().equals(MeterDrift.ELSEWHERE)));

      BenchFile untold = SimulatedNight.edited(night, STANDARD, "{}");
      Assessment naive = night.assessed(untold);
      // Without a record hysteresis and slow noise are not told apart, so there is no U to hold it.
      double mistaken = value(result(naive, ResultQuantity.THERMAL_HYSTERESIS, "1mA")).value();
      assertTrue(
          Math.abs(value(hysteresis).value()) < 0.4 * Math.abs(mistaken),
          () -> hysteresis + " beside " + mistaken);
      Result drift = result(naive, ResultQuantity.DRIFT, "1mA");
      assertFalse(holds(drift, 0), drift.toString());
      assertTrue(drift.notes().toString().contains("the current meter's own drift is part of it"));
    }
  }

  private static void assertHolds(Result result, double truth, String component) {
    assertTrue(holds(result, truth), truth + " is not in " + result);
    assertTrue(
        result.budget().stream().anyMatch(c -> c.component().equals(component)),
        result.budget().toString());
  }

  @Test
  void aStandardIsReadWithAZeroOfItsOwnAndTheTemperatureOfTheRoom() throws IOException {
    String once = NIGHT.substring(0, NIGHT.indexOf("  - at temperatures"));
    try (SimulatedNight night = SimulatedNight.of(folder, once)) {
      night.run();
      assertEquals(
          List.of(PointKind.ZERO, PointKind.CHECK_STANDARD),
          night.points().stream().map(p -> p.kind()).toList());
      var look = night.points().get(1);
      assertEquals(Optional.of("steady"), look.settings().checkStandard());
      var readings = night.reader().readings(look.id());
      assertTrue(readings.stream().anyMatch(r -> r.signal() == MeasuredSignal.LAB_TEMPERATURE));
      var currents = readings.stream().filter(r -> r.signal() == MeasuredSignal.CURRENT).toList();
      assertTrue(notEmpty(currents).stream().allMatch(r -> r.zero().isPresent()));
    }
  }

  @Test
  void aBenchWithoutAStandardPassesOverAllOfThem() throws IOException {
    String once = NIGHT.substring(0, NIGHT.indexOf("  - at temperatures"));
    try (SimulatedNight night =
        SimulatedNight.of(folder, once, text -> text.replaceAll(STANDARD, "{}"))) {
      assertTrue(Whole.is(night.run()));
      assertEquals(List.of(), night.points());
      assertEquals(
          List.of(
              "no check standard is read: the bench has none, so nothing tells the meter's drift"),
          night.incidents(IncidentKind.SKIP));
    }
  }
}
