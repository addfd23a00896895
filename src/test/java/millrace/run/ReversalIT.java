// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import millrace.analysis.load.LoadCurve;
import millrace.assessment.Assessment;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.sim.truth.SimulatedBenchSpec;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A unit whose leads are exchanged at the meters; the truth is that of the simulated bench. */
@Timeout(120)
class ReversalIT {
  private static final double THERMAL_V = 40e-6;

  private static final String SWEEP =
      """
      sequence: both ways round
      readings: {count: 6, line cycles: 10, reversal: yes}
      settle: {wait: 100 ms}
      steps:
        - in ranges: [1mA]
          do:
            - over loads: {resistance: [10 ohm, 20 ohm, 40 ohm]}
              sweep: up
      """;

  @TempDir private Path folder;

  private SimulatedNight night(String sequence) throws IOException {
    SimulatedBenchSpec.WiringSpec wiring =
        new SimulatedBenchSpec.WiringSpec(0.15, 0.2, 1e14, false, THERMAL_V);
    return SimulatedNight.of(folder, sequence, SimulatedBenchSpec.demo().with(wiring));
  }

  private static Assessment assessed(SimulatedNight night) {
    return night.assessed(night.file());
  }

  private static double mean(SimulatedNight night, Point point, MeasuredSignal signal) {
    return night.reader().readings(point.id()).stream()
        .filter(r -> r.signal() == signal)
        .mapToDouble(r -> r.value().orElseThrow())
        .average()
        .orElseThrow();
  }

  /** By how much voltage over current is off the true loop resistance, at the lowest load, ohm. */
  private static double offOhm(SimulatedNight night) {
    LoadCurve.Mean lowest = assessed(night).loads().get(0).curve().means().get(0);
    double burden = night.bench().truth().ammeter().ranges().get(3).resistanceOhm();
    double loop =
        night.bench().truth().load().actualOhm(10) + burden + night.bench().truth().leadsOhm();
    return lowest.voltageV().value() / lowest.currentA().value() - loop;
  }

  @Test
  void whatDoesNotTurnWithTheLeadsCancels() throws IOException {
    try (SimulatedNight night = night(SWEEP)) {
      assertTrue(Whole.is(night.run()));
      List<Point> points = night.points();
      assertEquals(3, points.size());
      for (Point point : points) {
        double plus = mean(night, point, MeasuredSignal.CURRENT);
        double minus = mean(night, point, MeasuredSignal.REVERSED_CURRENT);
        double offset = night.bench().truth().ammeter().ranges().get(3).offset();
        // Ten line cycles, six readings each way: 1.5 ppm of 2 mA over sqrt(60) is 0.4 nA.
        assertEquals(offset, (plus + minus) / 2, 3e-9);
        double voltage =
            mean(night, point, MeasuredSignal.VOLTAGE)
                + mean(night, point, MeasuredSignal.REVERSED_VOLTAGE);
        double meter = night.bench().truth().voltmeter().ranges().get(0).offset();
        assertEquals(THERMAL_V + meter, voltage / 2, 1e-6);
      }
      // Stated burden and leads are off by up to 1 % of 5 ohm and 20 % of 0.15 ohm.
      assertEquals(0, offOhm(night), 0.08);
      assertTrue(
          assessed(night).notes().stream().anyMatch(n -> n.startsWith("readings both ways round")),
          assessed(night).notes().toString());
      assertEquals(List.of(), night.bench().mistreatments());
    }
  }

  @Test
  void oneWayRoundTheThermalVoltageStays() throws IOException {
    try (SimulatedNight night = night(SWEEP.replace(", reversal: yes", ""))) {
      night.run();
      Point lowest = night.points().get(0);
      double volts = mean(night, lowest, MeasuredSignal.VOLTAGE);
      double current = mean(night, lowest, MeasuredSignal.CURRENT);
      double load = night.bench().truth().load().actualOhm(10);
      assertEquals(THERMAL_V, volts - current * load, 5e-6);
    }
  }

  @Test
  void zerosAndStandardsAreReadOneWayRound() throws IOException {
    String more = SWEEP.replace("- over", "- zero\n      - over");
    try (SimulatedNight night = night(more)) {
      night.run();
      Point zero = night.points().get(0);
      assertEquals(PointKind.ZERO, zero.kind());
      assertTrue(
          notEmpty(night.reader().readings(zero.id())).stream()
              .noneMatch(r -> r.signal() == MeasuredSignal.REVERSED_CURRENT));
      assertEquals(0, offOhm(night), 0.08);
    }
  }
}
