// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.function.UnaryOperator;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.fault.TrialLapFailedException;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.SimFault;
import millrace.sim.fault.SimFault.AtTime;
import millrace.sim.fault.SimFault.Kind;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** The trial lap before a night: what is wrong stops it before the chamber moves. */
@Timeout(120)
class TrialLapIT {
  private static final String NIGHT =
      """
      sequence: a night
      readings: {count: 2, line cycles: 1}
      settle: {wait: 100 ms}
      steps:
        - trial lap
        - at temperatures: [23 degC]
          soak: {within: 5 ppm, at least: 10 min, at most: 3 h}
          do:
            - in ranges: [1mA]
              do:
                - over loads: {share of compliance: [0 %, 80 %]}
      """;

  private static final UnaryOperator<String> AS_IT_IS = text -> text;

  @TempDir private Path folder;

  private String failed(String sequence, FaultPlan plan, UnaryOperator<String> bench)
      throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, sequence, plan, bench)) {
      String text = assertThrows(TrialLapFailedException.class, night::run).getMessage();
      assertTrue(night.points().stream().noneMatch(p -> p.kind() == PointKind.SOAK), text);
      assertEquals(List.of(), night.bench().unsafe());
      assertTrue(text.startsWith("trial lap, "), text);
      assertTrue(text.endsWith("The chamber was not moved."), text);
      return text;
    }
  }

  @Test
  void takesEachRangeFromItsZeroToTheHighestLoadOfTheNightInLessThanFiveMinutes()
      throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, NIGHT)) {
      night.run();
      List<Point> trial = night.points().stream().filter(p -> p.kind() == PointKind.TRIAL).toList();
      assertEquals(5 * 3, trial.size());
      Duration lap = trial.get(trial.size() - 1).ended().minus(trial.get(0).started());
      assertTrue(lap.compareTo(Duration.ofMinutes(5)) < 0, lap.toString());
      double highest =
          trial.stream()
              .filter(p -> p.conditions().range().orElse("").equals("1mA"))
              .mapToDouble(p -> p.conditions().loadOhm().orElse(0))
              .max()
              .orElseThrow();
      // 80 % of the 13.5 V that the datasheet promises, at 1 mA
      assertEquals(10_800, highest, 1);
    }
  }

  @Test
  void aThermometerThatDisagreesWithTheChamberStopsIt() throws IOException {
    FaultPlan plan =
        FaultPlan.of(
            new SimFault(
                Kind.SENSOR_OFFSET, "thermometer", new AtTime(Duration.ZERO), 1, 5, Duration.ZERO));
    String text = failed(NIGHT, plan, AS_IT_IS);
    assertTrue(text.contains("the unit's thermometer shows 2"), text);
  }

  @Test
  void aNightThatEndsBelowTheDewPointOfTheRoomIsRefused() throws IOException {
    String text = failed(NIGHT.replace("[23 degC]", "[23 degC, 4 degC]"), FaultPlan.NONE, AS_IT_IS);
    assertTrue(text.contains("the last temperature is 4 degC, and the room's dew point is "), text);
  }

  private static final String ACCURACY = "{reading: 20 ppm, full scale: 3 ppm, ";

  @Test
  void aRoomOutsideTheBandOfAnAccuracyStopsItWhereNoTempcoCarriesThat() throws IOException {
    String text =
        failed(
            NIGHT,
            FaultPlan.NONE,
            t -> t.replace(ACCURACY, ACCURACY + "band: [24 degC, 26 degC], "));
    assertTrue(text.contains("outside the band from 24 degC to 26 degC"), text);
    assertTrue(text.contains("names no 'tempco' to carry that by"), text);
  }

  @Test
  void aTempcoCarriesIt() throws IOException {
    try (SimulatedNight night =
        SimulatedNight.of(
            folder,
            NIGHT,
            t -> t.replace(ACCURACY, ACCURACY + "band: [24 degC, 26 degC], tempco: 2 ppm/K, "))) {
      night.run();
      assertTrue(
          night.incidents(IncidentKind.CAUTION).stream()
              .anyMatch(c -> c.endsWith("; a component is added for that")),
          night.incidents(IncidentKind.CAUTION).toString());
    }
  }
}
