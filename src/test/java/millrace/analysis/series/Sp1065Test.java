// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.series;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Map;
import java.util.function.IntToDoubleFunction;
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

  @ParameterizedTest
  @ValueSource(strings = {"nbs14_10point", "set_1000point"})
  void theWholeFamilyAgreesWithThePublishedDigits(String set) {
    Deviations found = Deviations.of(values(set));
    Map<String, IntToDoubleFunction> family =
        Map.of(
            "adev", found::adev,
            "oadev", found::oadev,
            "mdev", found::mdev,
            "hdev", found::hdev,
            "ohdev", found::ohdev,
            "totdev", found::totdev,
            "tdev", m -> found.tdev(m, 1));
    Digits published = Digits.of(Sp1065Test.class, Origin.PUBLISHED, "NIST SP 1065");
    Digits recomputed = Digits.of(Sp1065Test.class, Origin.RECOMPUTED, "NIST SP 1065");
    JsonNode statistics = Reference.json("sp1065/" + set + ".json").get("statistics");
    family.forEach(
        (name, deviation) -> {
          for (JsonNode row : statistics.get(name)) {
            double value = deviation.applyAsDouble(row.get("m").asInt());
            if (row.hasNonNull("published")) {
              published.agree(name + " published", row.get("published").asDouble(), value, 1e-6);
            }
            recomputed.agree(name + " recomputed", row.get("recomputed").asDouble(), value, 1e-12);
          }
        });
  }

  @ParameterizedTest
  @ValueSource(strings = {"nbs14_10point", "set_1000point"})
  void aRecordOnAnEvenGridGivesTheOverlappingAllanDeviation(String set) {
    double[] values = values(set);
    double[] times = new double[values.length];
    for (int i = 0; i < times.length; i++) {
      times[i] = 0.5 * i;
    }
    Deviations expected = Deviations.of(values);
    AllanDeviation found = AllanDeviation.of(TimeSeries.of(times, values), 1e6);
    for (AllanDeviation.Level level : found.levels()) {
      int m = (int) Math.round(level.tauS() / 0.5);
      assertEquals(expected.oadev(m), level.deviationPpm(), 1e-11 * expected.oadev(m));
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
