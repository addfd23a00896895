// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import millrace.evidence.Limits;
import millrace.quantity.ClosedInterval;
import org.junit.jupiter.api.Test;

class WorstConditionOfBoxTest {
  private static final double[] FIVE = {23, 10, 30, 40, 50, 23};
  private static final double[] VOLTS = {0, 2, 4, 6, 8, 10};

  private static PromisedConditionBox box(
      double fromDegC, double toDegC, double fromV, double toV) {
    return new PromisedConditionBox(
        new ClosedInterval(fromDegC, toDegC), new ClosedInterval(fromV, toV), Optional.empty());
  }

  @Test
  void findsTheCornerOfAPlane() {
    RangeResponse response = Flat.response(Flat.range("r", 0, FIVE, VOLTS));
    WorstConditionOfBox worst =
        WorstConditionOfBox.of(response, Limits.between(-200, 200), box(12, 48, 1, 9));
    assertEquals(48, worst.condition().orElseThrow().temperatureDegC(), 0.1);
    assertEquals(1, worst.condition().orElseThrow().voltageV().orElseThrow(), 0.1);
    assertEquals(Flat.ppm(48, 1, 0), worst.prediction().orElseThrow().errorPpm().value(), 0.1);
    assertEquals(List.of(), worst.wanting());
  }

  /** The top of a parabola lies between the nodes of any grid. */
  @Test
  void refinesBetweenTheNodes() {
    RangeResponse response = Flat.response(Flat.range("r", -0.1, FIVE, VOLTS));
    WorstConditionOfBox worst =
        WorstConditionOfBox.of(response, Limits.between(-1000, 130), box(11.3, 49.1, 0, 10));
    // 2 t - 0.1 t^2 is largest at t = 10 K, which is 33 degC
    assertEquals(33, worst.condition().orElseThrow().temperatureDegC(), 0.3);
    assertEquals(0, worst.condition().orElseThrow().voltageV().orElseThrow(), 1e-9);
  }

  /** +60 ppm and 2 ppm/K pass +/-100 ppm at 23 and 28 degC; promised is more. */
  @Test
  void passesNothingThatWasNotMeasured() {
    RangeResponse response = Flat.response(Flat.range("r", 0, new double[] {23, 28}, 0, 2, 4, 6));
    WorstConditionOfBox worst =
        WorstConditionOfBox.of(response, Limits.between(-200, 200), box(5, 50, 0, 12));
    assertEquals(
        List.of("measure at 5 degC", "measure at 12 V", "measure at 50 degC"), worst.wanting());
    // the part that is known has a worst condition of its own
    assertTrue(worst.condition().isPresent());
  }

  @Test
  void namesTheSupplyThatWasNotRead() {
    RangeResponse response = Flat.response(Flat.range("r", 0, FIVE, VOLTS));
    PromisedConditionBox supplied =
        new PromisedConditionBox(
            new ClosedInterval(20, 30),
            new ClosedInterval(0, 5),
            Optional.of(new ClosedInterval(90, 91)));
    WorstConditionOfBox worst =
        WorstConditionOfBox.of(response, Limits.between(-500, 500), supplied);
    assertEquals(
        List.of("measure with a supply of 90 V", "measure with a supply of 91 V"), worst.wanting());
    assertTrue(worst.condition().isEmpty());
  }
}
