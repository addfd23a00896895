// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import static org.junit.jupiter.api.Assertions.assertAll;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import millrace.analysis.temperature.TemperaturePoint;
import millrace.analysis.temperature.TemperatureResults;
import millrace.analysis.temperature.TemperatureStudy;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;

/** How often results over temperature hold the truth, by the law of the noise (5.2, 5.10). */
class VisitCoverageTest {
  /** Sets a case of the campaign. */
  private static final int SETS = Integer.getInteger("millrace.sets", 2000);

  private static final double[] LAP = {23, 35, 50, 23, 5, 23};
  private static final int READINGS = 10;
  private static final int APART = 160;
  private static final int LONG = 1000;

  private static final List<String> WITHOUT =
      List.of("tempco", "tempco_cold", "tempco_hot", "tempco_quadratic_a", "tempco_quadratic_b");

  private static final List<String> WITH_RECORD =
      Stream.concat(
              WITHOUT.stream(),
              Stream.of(
                  "thermal_hysteresis cold", "thermal_hysteresis hot", "thermal_hysteresis full"))
          .toList();

  private static List<PointReadings> visits(double[] noisePpm) {
    List<PointReadings> visits = new ArrayList<>();
    for (int v = 0; v < LAP.length; v++) {
      double[] t = new double[READINGS];
      double[] y = new double[READINGS];
      for (int i = 0; i < READINGS; i++) {
        t[i] = v * APART + i;
        y[i] = 1e-3 * (1 + 1e-6 * noisePpm[v * APART + i]);
      }
      visits.add(new PointReadings("p" + v, v, LAP[v] == 23, "0 ohm", t, y));
    }
    return visits;
  }

  private static TemperatureStudy study(List<PointReadings> visits, Optional<LongRecord> record) {
    RunNoise noise = RunNoise.of(visits, Set.of(), 1e-9, record);
    List<TemperaturePoint> points = new ArrayList<>();
    for (PointReadings p : visits) {
      ErrorSource own =
          ErrorSource.normal("meter noise", ErrorSource.POINT, p.name(), 1e-9, "A")
              .sharing(noise.shared());
      double degC = LAP[p.visit()];
      points.add(
          new TemperaturePoint(
              p.visit(),
              degC,
              Estimate.exact(degC),
              Estimate.exact(p.mean()).with(own, 1),
              p.middleS()));
    }
    return TemperatureStudy.of(points, 23);
  }

  private static Map<String, Counted> counted(NoiseKind kind, int record, int sets) {
    Random random = new Random(510_000L + 7L * record + kind.ordinal());
    Map<String, Counted> all = new LinkedHashMap<>();
    double[] times = IntStream.range(0, record).asDoubleStream().toArray();
    for (int i = 0; i < sets; i++) {
      double[] noise = kind.drawn(random, APART * LAP.length);
      Optional<LongRecord> beside =
          record == 0
              ? Optional.empty()
              : Optional.of(LongRecord.of("r", times, kind.drawn(random, record)));
      TemperatureStudy study = study(visits(noise), beside);
      for (Result r : TemperatureResults.of(study, "1mA", 0.9545, List.of())) {
        if (r.outcome() instanceof ComputationOutcome.Value v && v.uncertainty().isPresent()) {
          String key =
              r.quantity().key()
                  + Optional.ofNullable(r.at().words().get(ResultConditionKey.EXCURSION))
                      .map(e -> " " + e)
                      .orElse("");
          String name = "%s, %s, record of %s".formatted(key, kind.text(), record);
          all.computeIfAbsent(key, q -> new Counted(name))
              .add(v.value(), v.uncertainty().get().expanded());
        }
      }
    }
    return all;
  }

  private static void holds(NoiseKind kind, int record, int sets, double[] leastAndWidest) {
    Map<String, Counted> all = counted(kind, record, sets);
    List<Executable> cases = new ArrayList<>();
    for (String key : record > 0 ? WITH_RECORD : WITHOUT) {
      boolean timed = !key.endsWith("cold") && !key.endsWith("hot");
      double widest = record == 0 && timed ? 4.4 : leastAndWidest[1];
      cases.add(() -> all.get(key).holds(leastAndWidest[0], widest));
    }
    assertAll(cases);
  }

  @Test
  void fewSetsWithARecord() {
    holds(NoiseKind.WALK, LONG, 30, new double[] {0.89, 1.2});
    holds(NoiseKind.FLICKER, LONG, 30, new double[] {0.93, 1.2});
  }

  @Test
  void fewSetsWithout() {
    holds(NoiseKind.WHITE, 0, 60, new double[] {0.92, 1.8});
    holds(NoiseKind.FLICKER, 0, 60, new double[] {0.89, 1.8});
  }

  @Tag("campaign")
  @Test
  void twoThousandSetsWithARecord() {
    assertAll(
        Stream.of(NoiseKind.values())
            .map(
                kind -> {
                  boolean walks = kind == NoiseKind.WALK || kind == NoiseKind.WHITE_WALK;
                  double least = walks ? 0.89 : 0.92;
                  return () -> holds(kind, LONG, SETS, new double[] {least, 1.25});
                }));
  }

  @Tag("campaign")
  @Test
  void twoThousandSetsWithout() {
    assertAll(
        Stream.of(NoiseKind.values())
            .map(kind -> () -> holds(kind, 0, SETS, new double[] {0.86, 2.6})));
  }
}
