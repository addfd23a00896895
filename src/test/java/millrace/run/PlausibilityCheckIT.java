// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.SimFault;
import millrace.sim.fault.SimFault.AtTime;
import millrace.sim.fault.SimFault.Kind;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** Points that cannot be right although every instrument answers well. */
@Timeout(120)
class PlausibilityCheckIT {
  @TempDir private Path folder;

  private List<Point> measured(SimulatedNight night) {
    return night.points().stream().filter(p -> p.kind() == PointKind.MEASURE).toList();
  }

  private static FaultPlan from(Duration when, Kind kind, String instrument, double size) {
    return FaultPlan.of(new SimFault(kind, instrument, new AtTime(when), 1, size, Duration.ZERO));
  }

  @Test
  void aThermometerThatShowsTooMuchFlagsThePointsAndTheirReadingsMakeNoResult() throws IOException {
    FaultPlan plan = from(Duration.ofMinutes(5), Kind.SENSOR_OFFSET, "thermometer", 4);
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.WARM, plan)) {
      night.run();
      for (Point p : notEmpty(measured(night))) {
        assertEquals(PointState.FLAGGED, p.state());
        assertTrue(p.reason().contains("the unit's thermometer shows 4"), p.reason());
        List<Reading> currents =
            night.reader().readings(p.id()).stream()
                .filter(r -> r.signal() == MeasuredSignal.CURRENT)
                .toList();
        assertTrue(notEmpty(currents).stream().allMatch(r -> r.state() == ReadingState.SUSPECT));
      }
    }
  }

  @Test
  void aUnitThatDiesIsFlaggedFromThereOn() throws IOException {
    FaultPlan plan = from(Duration.ofSeconds(8), Kind.UNIT_DIES, "selector", 1);
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.SHORT, plan)) {
      night.run();
      List<Point> points = measured(night);
      assertEquals(PointState.COMPLETE, points.get(0).state());
      Point last = points.get(points.size() - 1);
      assertEquals(PointState.FLAGGED, last.state());
      assertTrue(last.reason().contains("asked are 100.0 uA"), last.reason());
      assertEquals(List.of(), night.bench().unsafe());
    }
  }
}
