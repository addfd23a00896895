// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import millrace.assessment.Assessor;
import millrace.assessment.MeasuredPoint;
import millrace.assessment.MeasuredPoints;
import millrace.assessment.correction.CorrectionResidualCheck;
import millrace.assessment.correction.UnitCorrectionConstants;
import millrace.assessment.correction.UnitRangeCorrection;
import millrace.bench.driver.Drivers;
import millrace.logbook.Logbook;
import millrace.logbook.RunStart;
import millrace.night.BenchSession;
import millrace.night.Night;
import millrace.night.OperatorAttendance;
import millrace.night.RunInputs;
import millrace.night.UnitUnderTest;
import millrace.run.control.RunOutcome;
import millrace.run.control.StopRequest;
import millrace.sim.truth.SimulatedUnit;
import millrace.time.VirtualClock;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** The constants of a simulated unit, whose truth is known, and the run that proves them. */
@Timeout(180)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class CorrectionConstantsCsvIT {
  private static final String SHEET = "examples/fx-3.datasheet.yaml";
  private static final String RANGE = "100uA";
  private static final String NIGHT =
      """
      sequence: constants
      readings: {count: 5, line cycles: 10}
      steps:
        - at temperatures: [23 degC, 40 degC, 23 degC, 10 degC, 23 degC]
          soak: {within: 5 ppm, at least: 10 min, at most: 2 h}
          do:
            - in ranges: [100uA]
              do:
                - zero
                - over loads: {share of compliance: [0 %, 25 %, 50 %, 75 %]}
                  sweep: both
      """;

  @TempDir private static Path folder;
  private static double worstPpm;
  private static UnitRangeCorrection correction;

  private static Path book() {
    return folder.resolve("c.db");
  }

  /** The night, and how far the corrected currents are from the true ones of the same unit. */
  @BeforeAll
  void measure() throws IOException {
    Path sequence = Files.writeString(folder.resolve("night.yaml"), NIGHT);
    RunInputs inputs = RunInputs.read(sequence, Path.of(SHEET));
    OperatorAttendance nobody =
        new OperatorAttendance(
            RunStart.People.NONE,
            question -> "",
            List.of(),
            new StopRequest(run -> "Go on with: millrace run --resume " + run),
            List.of());
    try (Logbook logbook = Logbook.openOrCreate(book());
        BenchSession setting =
            BenchSession.simulated(
                1,
                new VirtualClock(Instant.parse("2026-05-04T18:00:00Z")),
                inputs.datasheet(),
                Drivers.load(Path.of("drivers")))) {
      RunOutcome outcome =
          new Night(inputs, setting, logbook, nobody).begin(UnitUnderTest.of("FX3-00042"));
      correction =
          UnitCorrectionConstants.of(Assessor.assess(logbook.reader(outcome.run())))
              .ranges()
              .get(0);
      worstPpm = worstPpm(setting.simulation().orElseThrow().unit());
    }
  }

  private static double worstPpm(SimulatedUnit unit) {
    double worst = 0;
    for (int degC = 10; degC <= 40; degC += 3) {
      for (int volts = 0; volts <= 10; volts += 2) {
        double truthA = unit.truth(RANGE, degC).currentA(volts);
        double left = truthA - correction.currentA(degC, volts).value();
        worst = Math.max(worst, Math.abs(left) / correction.nominalA() * 1e6);
      }
    }
    return worst;
  }

  @Test
  void leaveNoMoreErrorThanWasPredicted() {
    UnitRangeCorrection.Residual residual = correction.residual();
    assertTrue(worstPpm <= residual.ppm(), worstPpm + " ppm left, predicted " + residual);
    // The meter's accuracy of 25 ppm of reading and 4 ppm of range, rectangular: U near 30 ppm.
    assertTrue(residual.ppm() > 20 && residual.ppm() < 50, residual.toString());
    // What is left without the meter is less than half of it.
    assertTrue(residual.sameInstrumentsPpm() < residual.ppm() / 2, residual.toString());
    assertTrue(residual.beforePpm() > residual.ppm(), residual.toString());
  }

  private static void check() {
    Spoken.by(
        "run",
        "sequences/check-of-constants.yaml",
        "--unit",
        "FX3-00042",
        "--datasheet",
        SHEET,
        "--simulated",
        "--logbook",
        book().toString());
  }

  @Test
  void holdInALaterRunOfTheSameUnitAndNotOfOneThatHasDrifted() {
    check();
    Spoken spoken =
        Spoken.by("compare", "1", "2", "--constants", "--json", "--logbook", book().toString());
    assertEquals(0, spoken.code(), spoken.out() + spoken.err());
    JsonNode same = Schemas.json(spoken.out()).at("/checks/0");
    assertTrue(same.at("/same_instruments").asBoolean());
    assertEquals(6, same.at("/ranges/0/points").asInt(), same.toString());
    double before = Math.abs(same.at("/ranges/0/largest_before/before_ppm").asDouble());
    double after = Math.abs(same.at("/ranges/0/worst_after/after_ppm").asDouble());
    assertTrue(after < before / 4, same.toString());
    assertFalse(drifted(20e-6).holds());
    assertFalse(drifted(20e-6).ranges().get(0).holds());
    assertTrue(drifted(0).holds());
  }

  /** The later run, had the unit drifted since the constants were taken. */
  private static CorrectionResidualCheck drifted(double ratio) {
    try (Logbook logbook = Logbook.readOnly(book())) {
      List<MeasuredPoint> moved =
          MeasuredPoints.of(logbook.reader(2)).stream()
              .map(
                  p ->
                      new MeasuredPoint(
                          p.point(),
                          p.timeS(),
                          p.currentA() * (1 + ratio),
                          p.uPointA(),
                          p.uCommonA(),
                          p.voltageV(),
                          p.uVoltageV(),
                          p.temperatureDegC(),
                          p.uTemperatureK()))
              .toList();
      UnitCorrectionConstants corrections =
          new UnitCorrectionConstants(List.of(correction), Map.of());
      return CorrectionResidualCheck.of(corrections, moved, true, 0.9545);
    }
  }

  @Test
  void areWrittenAsCsvAndAsJsonWithTheirUncertainty() {
    Spoken csv = Spoken.done("export", "1", "--constants", "--logbook", book().toString());
    for (String constant :
        List.of("gain,", "temperature_linear,", "temperature_quadratic,", "residual,")) {
      assertTrue(csv.out().contains(",100uA," + constant), csv.out());
    }
    Spoken json = Spoken.by("export", "1", "--constants", "--json", "--logbook", book().toString());
    JsonNode gain = Schemas.json(json.out()).at("/ranges/0/gain");
    assertEquals(correction.gain().value(), gain.at("/value").asDouble());
    assertTrue(gain.at("/expanded_uncertainty").asDouble() > 0, gain.toString());
  }

  @Test
  void areOfOneUnit() {
    Spoken alone = Spoken.by("compare", "1", "--constants", "--logbook", book().toString());
    assertEquals(2, alone.code());
    assertTrue(alone.err().contains("--constants wants a RUN that gave them"), alone.err());
  }
}
