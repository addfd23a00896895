// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.evidence.ResultQuantity;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class NightDesignTest {
  private static NightDesign richest(double hot, double cold, double between) {
    return NightDesign.richest(
        new NightScope(
            "a night",
            List.of("1mA"),
            List.of(),
            Set.of(ResultQuantity.TEMPCO),
            23,
            Double.isNaN(hot) ? OptionalDouble.empty() : OptionalDouble.of(hot),
            Double.isNaN(cold) ? OptionalDouble.empty() : OptionalDouble.of(cold),
            Optional.of(between).filter(t -> !t.isNaN()),
            false,
            List.of(),
            2));
  }

  @ParameterizedTest
  @CsvSource({
    "50, 5, 28, '[23.0, 28.0, 50.0, 23.0, 5.0, 23.0]'",
    "50, 5, 18, '[23.0, 50.0, 23.0, 18.0, 5.0, 23.0]'",
    "50, 5, NaN, '[23.0, 50.0, 23.0, 5.0, 23.0]'",
    "50, NaN, 36, '[23.0, 50.0, 23.0, 36.0, 23.0]'",
    "NaN, 5, 14, '[23.0, 5.0, 23.0, 14.0, 23.0]'",
    "30, NaN, NaN, '[23.0, 30.0, 23.0, 30.0, 23.0]'",
    "NaN, NaN, NaN, '[23.0]'"
  })
  void theReferenceTemperatureComesBeforeBetweenAndAfter(
      double hot, double cold, double between, String visits) {
    assertEquals(visits, richest(hot, cold, between).temperatures().toString());
  }

  @Test
  void noLeverTakesAVisitToTheReferenceTemperatureAway() {
    for (double[] ends : new double[][] {{50, 5}, {50, Double.NaN}, {Double.NaN, 5}}) {
      NightDesign design = richest(ends[0], ends[1], 36).leanestBut(Optional.empty());
      assertEquals(3, design.temperatures().stream().filter(t -> t == 23).count());
      assertTrue(design.loadsPercent("1mA").size() >= 3, design.loadsPercent("1mA").toString());
    }
  }
}
