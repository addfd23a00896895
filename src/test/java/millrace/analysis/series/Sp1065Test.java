// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.series;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Arrays;
import millrace.analysis.Reference;
import millrace.verification.Digits;
import millrace.verification.Digits.Origin;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** NIST SP 1065 (2008), test suite: the NBS14 set and the 1000-point set. */
class Sp1065Test {
  private static double[] values(String set) {
    return Reference.rows("sp1065/" + set + ".csv").stream()
        .mapToDouble(r -> Reference.number(r, "frequency"))
        .toArray();
  }

  /** On an even grid, each slot one second. */
  private static EvenTimeGrid grid(String set) {
    double[] values = values(set);
    double[] times = new double[values.length];
    Arrays.setAll(times, i -> i);
    return EvenTimeGrid.of(TimeSeries.of(times, values), 1e6);
  }

  @ParameterizedTest
  @ValueSource(strings = {"nbs14_10point", "set_1000point"})
  void theOverlappingAllanDeviationAgreesWithThePublishedDigits(String set) {
    EvenTimeGrid grid = grid(set);
    Digits published = Digits.of(Sp1065Test.class, Origin.PUBLISHED, "NIST SP 1065");
    Digits recomputed = Digits.of(Sp1065Test.class, Origin.RECOMPUTED, "NIST SP 1065");
    JsonNode rows = Reference.json("sp1065/" + set + ".json").get("statistics").get("oadev");
    assertTrue(rows.size() >= 2, () -> rows.size() + " rows");
    for (JsonNode row : rows) {
      double value = Math.sqrt(grid.allan(row.get("m").asInt()).ppm2());
      published.agree("oadev published", row.get("published").asDouble(), value, 1e-6);
      recomputed.agree("oadev recomputed", row.get("recomputed").asDouble(), value, 1e-12);
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"nbs14_10point", "set_1000point"})
  void theLevelsOfARecordAreThatDeviationInOctaves(String set) {
    EvenTimeGrid grid = grid(set);
    double[] values = values(set);
    double[] times = new double[values.length];
    Arrays.setAll(times, i -> 0.5 * i);
    AllanDeviation found = AllanDeviation.of(TimeSeries.of(times, values), 1e6);
    assertTrue(found.levels().size() >= 2);
    for (AllanDeviation.Level level : found.levels()) {
      double expected = Math.sqrt(grid.allan((int) Math.round(level.tauS() / 0.5)).ppm2());
      assertEquals(expected, level.deviationPpm(), 1e-11 * expected);
    }
  }

  @Test
  void thousandRandomValuesAreWhiteWithTheDegreesOfFreedomOfWhiteNoise() {
    double[] values = values("set_1000point");
    assertEquals(NoiseType.WHITE, NoiseType.of(values, 30).orElseThrow());
    // 3 (N - 1)/(2 m) - 2 (N - 2)/N, times 4 m^2/(4 m^2 + 5), with N = 1001 and m = 10.
    assertEquals(
        (150 - 2 * 999.0 / 1001) * 400 / 405, NoiseType.WHITE.degreesOfFreedom(1001, 10), 1e-9);
  }
}
