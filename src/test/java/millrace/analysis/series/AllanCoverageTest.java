// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.series;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.TreeMap;
import millrace.analysis.noise.Noises;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.verification.Held;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * How often the interval of an Allan deviation holds the truth, by noise and averaging time, the
 * shortest included. The truth is the root of the mean of all sets' variances, which an Allan
 * variance has no bias of (methods.md 6.4; degrees of freedom of NIST SP 1065, table 5).
 */
class AllanCoverageTest {
  private static final int READINGS = 256;

  /** Noise of a current, which counts as frequency. */
  private enum Kind {
    WHITE,
    FLICKER,
    WALK;

    double[] drawn(Random random) {
      return switch (this) {
        case WHITE -> Noises.white(random, READINGS);
        case FLICKER -> Noises.flicker(random, READINGS);
        case WALK -> Noises.walk(random, READINGS);
      };
    }
  }

  private static final TimeSeriesRequest QUESTION =
      new TimeSeriesRequest(
          "1mA", Records.NOMINAL_A, "I_N", OptionalDouble.of(1), OptionalDouble.empty(), 0.9545);

  private static void counted(Kind kind, int sets, double least, double most) {
    Random random = new Random(1065 + kind.ordinal());
    Map<Double, List<ComputationOutcome.Value>> found = new TreeMap<>();
    for (int i = 0; i < sets; i++) {
      TimeSeries series = Records.current(kind.drawn(random), 0, 1);
      for (Result r : AllanDeviation.results(series, QUESTION)) {
        if (r.outcome() instanceof ComputationOutcome.Value v) {
          double tau = r.at().number(ResultConditionKey.TAU_S).orElseThrow();
          found.computeIfAbsent(tau, t -> new ArrayList<>()).add(v);
        }
      }
    }
    found.forEach(
        (tau, all) -> {
          double truth =
              Math.sqrt(all.stream().mapToDouble(v -> v.value() * v.value()).average().orElse(0));
          Held held =
              new Held(
                  AllanCoverageTest.class,
                  "allan_deviation %s tau %s".formatted(kind, Math.round(tau)));
          all.forEach(v -> held.add(truth, v));
          held.holdsBetween(least, most);
        });
  }

  @Test
  void aFewSets() {
    counted(Kind.WHITE, 100, 0.90, 1);
    counted(Kind.FLICKER, 100, 0.88, 1);
  }

  @Tag("campaign")
  @Test
  void twoThousandSets() {
    counted(Kind.WHITE, 2000, 0.92, 0.99);
    counted(Kind.FLICKER, 2000, 0.90, 0.99);
    counted(Kind.WALK, 2000, 0.88, 0.99);
  }
}
