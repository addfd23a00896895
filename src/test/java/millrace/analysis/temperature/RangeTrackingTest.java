// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import org.junit.jupiter.api.Test;

class RangeTrackingTest {
  /** Both ranges have 20 ppm/K of the reference; the first has 1.5 ppm/K of its resistor too. */
  private static TemperaturePoint point(int stay, double t, double ownPpmPerK, double timeS) {
    double common = 20 * (t - 23) + 0.01 * timeS;
    double current = 1e-3 * (1 + 1e-6 * (common + ownPpmPerK * (t - 23)));
    ErrorSource noise =
        ErrorSource.normal(
            "noise", ErrorSource.POINT, stay + "/" + ownPpmPerK + "/" + timeS, 0.1, "ppm");
    return new TemperaturePoint(
        stay, t, Estimate.exact(t), Estimate.exact(current).with(noise, current * 1e-6), timeS);
  }

  private static Result tracking(boolean bracketed) {
    List<TemperaturePoint> a = new ArrayList<>();
    List<TemperaturePoint> b = new ArrayList<>();
    double[] temperatures = {23, 5, 23, 50};
    for (int i = 0; i < temperatures.length; i++) {
      double start = 7000 * i;
      b.add(point(i, temperatures[i], 0, start));
      a.add(point(i, temperatures[i], 1.5, start + 100 + 50 * i));
      if (bracketed) {
        b.add(point(i, temperatures[i], 0, start + 400));
      }
    }
    return RangeTracking.of(new RangeTracking.Pair("1mA", a, "100uA", b), 23, 0.9545, List.of());
  }

  @Test
  void whatBothRangesShareCancelsAndSoDoesADriftWithinTheSoak() {
    Result found = tracking(true);
    ComputationOutcome.Value value =
        assertInstanceOf(ComputationOutcome.Value.class, found.outcome());
    assertEquals(1.5, value.value(), 1e-3);
    assertEquals("100uA", found.at().words().get(ResultConditionKey.OTHER_RANGE));
    assertTrue(found.notes().stream().noneMatch(n -> n.contains("bracketed")));
  }

  @Test
  void rangesThatAreNotBracketedAreNoted() {
    Result found = tracking(false);
    assertTrue(found.notes().stream().anyMatch(n -> n.contains("in 4 of 4 soaks")));
  }

  @Test
  void rangesThatShareNoSoakHaveNoTracking() {
    List<TemperaturePoint> a = List.of(point(0, 23, 1.5, 0));
    List<TemperaturePoint> b = List.of(point(1, 50, 0, 0));
    Result found =
        RangeTracking.of(new RangeTracking.Pair("1mA", a, "100uA", b), 23, 0.9545, List.of());
    assertEquals(
        "no soak in which both ranges were measured",
        assertInstanceOf(ComputationOutcome.Missing.class, found.outcome()).reason());
  }
}
