// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import static org.junit.jupiter.api.Assertions.assertAll;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.stream.IntStream;
import millrace.analysis.uncertainty.CorrelatedNoise.Carried;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;

/** How often intervals of sums of a few short points hold the truth (2.1). */
class PointCoverageTest {
  /** Sets a case of the campaign. */
  private static final int SETS = Integer.getInteger("millrace.sets", 2000);

  private static final int APART = 10;

  private static double[] times(int n) {
    return IntStream.range(0, n).asDoubleStream().toArray();
  }

  /** The slope over points of five readings, ten intervals apart times their count. */
  private static Counted counted(NoiseKind kind, int points, int record, int sets) {
    int m = 5;
    Random random = new Random(21_000L + points + 7L * record + kind.ordinal());
    Counted counted =
        new Counted(
            "points, %s, %s points of %s, record of %s".formatted(kind.text(), points, m, record));
    for (int i = 0; i < sets; i++) {
      double[] all = kind.drawn(random, points * APART + m);
      List<PointReadings> each = new ArrayList<>();
      Map<String, Double> weights = new HashMap<>();
      double error = 0;
      for (int p = 0; p < points; p++) {
        double[] t = new double[m];
        double[] y = new double[m];
        for (int k = 0; k < m; k++) {
          t[k] = p * APART + k;
          y[k] = all[p * APART + k];
        }
        PointReadings point = new PointReadings("p" + p, 0, false, "load " + p, t, y);
        each.add(point);
        double w = p - (points - 1) / 2.0;
        weights.put("p" + p, w);
        error += w * point.mean();
      }
      Optional<LongRecord> beside =
          record == 0
              ? Optional.empty()
              : Optional.of(LongRecord.of("r", times(record), kind.drawn(random, record)));
      Carried carried =
          RunNoise.of(each, Set.of(), 1, beside).shared().carried(weights).orElseThrow();
      counted.add(error, 2 * carried.u());
    }
    return counted;
  }

  /**
   * Least share and widest U: what 2.1 names, or what no few readings without a record can tell.
   */
  private static double[] asked(NoiseKind kind, int record) {
    boolean walks = kind == NoiseKind.WALK || kind == NoiseKind.WHITE_WALK;
    if (record == 0) {
      double least = walks ? 0.30 : kind == NoiseKind.AR_09 ? 0.80 : 0.89;
      return new double[] {least, 3.2};
    } else if (record == 240) {
      return new double[] {walks ? 0.82 : 0.94, kind == NoiseKind.AR_09 ? 3.2 : 1.6};
    }
    return new double[] {0.93, 1.15};
  }

  @Test
  void aHundredSets() {
    counted(NoiseKind.WHITE, 4, 0, 100).holds(0.89, 2.6);
    counted(NoiseKind.FLICKER, 8, 0, 100).holds(0.89, 2.6);
    counted(NoiseKind.AR_08, 8, 240, 60).holds(0.94, 1.6);
    counted(NoiseKind.WALK, 8, 1000, 40).holds(0.93, 1.15);
  }

  @Tag("campaign")
  @Test
  void twoThousandSets() {
    List<Executable> cases = new ArrayList<>();
    for (int record : new int[] {0, 240, 1000}) {
      for (int points : new int[] {4, 8, 16}) {
        for (NoiseKind kind : NoiseKind.values()) {
          double[] asked = asked(kind, record);
          cases.add(() -> counted(kind, points, record, SETS).holds(asked[0], asked[1]));
        }
      }
    }
    assertAll(cases);
  }
}
