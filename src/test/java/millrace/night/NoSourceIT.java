// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import millrace.Impatient;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.SimFault;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A unit that is no source for a part of a night, or for all of it. */
@Timeout(120)
class NoSourceIT {
  private static final String NIGHT =
      """
      sequence: three temperatures
      readings: {count: 2, line cycles: 1}
      settle: {wait: 100 ms}
      on failure: go on flagged
      steps:
        - at temperatures: [23 degC, 40 degC, 30 degC]
          soak: {within: 5 ppm, at least: 10 min, at most: 60 min}
          do:
            - in ranges: [1mA]
              do:
                - zero
                - over loads: {share of compliance: [0 %, 25 %, 50 %, 75 %]}
      """;

  @TempDir private Path folder;
  private List<Point> points;

  private Assessment assessed(SimFault.Kind kind, String instrument, Duration from)
      throws IOException {
    SimFault fault = new SimFault(kind, instrument, new SimFault.AtTime(from), 1, 1, Duration.ZERO);
    Path sequence = Files.writeString(folder.resolve("night.yaml"), NIGHT);
    CampaignNight night =
        new CampaignNight(
            new CampaignNight.Settings(
                RunInputs.read(sequence, Path.of("examples", "fx-3.datasheet.yaml")),
                Impatient.drivers(folder),
                new CampaignNight.Disk(folder, Optional.empty()),
                1,
                FaultPlan.of(fault),
                List.of(),
                Duration.ofHours(1),
                new Seeds(1)));
    night.run();
    try (Logbook book = Logbook.open(night.logbook())) {
      RunReader reader = book.reader(1);
      points = reader.points().stream().filter(p -> p.kind() == PointKind.MEASURE).toList();
      return Assessor.assess(reader);
    }
  }

  private static Result only(Assessment found, ResultQuantity quantity) {
    return found.results().stream()
        .filter(r -> r.quantity() == quantity && r.range().equals(Optional.of("1mA")))
        .findFirst()
        .orElseThrow();
  }

  /** A meter across the output takes nearly all of the current at a short, and says nothing. */
  @Test
  void whereAMeterLayAcrossTheOutputIsLeftOutOfWhatComparesTemperatures() throws IOException {
    Assessment found =
        assessed(SimFault.Kind.METER_ACROSS_OUTPUT, "ammeter", Duration.ofMinutes(45));
    assertTrue(points.subList(0, 16).stream().allMatch(p -> p.state() == PointState.COMPLETE));
    Point atShort = points.get(16);
    assertEquals(PointState.FLAGGED, atShort.state());
    assertTrue(atShort.reason().contains("flows into a short"), atShort.reason());
    assertTrue(found.notes().toString().contains("range 1mA: 2 points"), found.notes().toString());
    ComputationOutcome.Value tempco =
        (ComputationOutcome.Value) only(found, ResultQuantity.TEMPCO).outcome();
    assertEquals(2, tempco.n());
    assertTrue(Math.abs(tempco.value()) < 10, tempco.toString());
  }

  @Test
  void aUnitThatIsDeadAllNightHasItsCurrentErrorAndNoCompliance() throws IOException {
    Assessment found = assessed(SimFault.Kind.UNIT_DIES, "selector", Duration.ZERO);
    assertTrue(notEmpty(points).stream().allMatch(p -> p.state() == PointState.FLAGGED));
    ComputationOutcome.Value error =
        (ComputationOutcome.Value) only(found, ResultQuantity.CURRENT_ERROR).outcome();
    assertEquals(-1e6, error.value(), 20);
    ComputationOutcome.Missing compliance =
        (ComputationOutcome.Missing) only(found, ResultQuantity.COMPLIANCE_VOLTAGE).outcome();
    assertEquals("no current flows, so there is nothing that could fall", compliance.reason());
  }
}
