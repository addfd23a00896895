// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import static org.junit.jupiter.api.Assertions.assertAll;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;

/** How often the interval of a drift holds the truth, by the law of the noise (6.3). */
class DriftCoverageTest {
  /** Sets a case of the campaign. */
  private static final int SETS = Integer.getInteger("millrace.sets", 2000);

  private static double[] times(int n) {
    return IntStream.range(0, n).asDoubleStream().toArray();
  }

  private static Counted counted(NoiseKind kind, int n, int record, int sets) {
    Random random = new Random(63_000L + n + 7L * record + kind.ordinal());
    Counted counted =
        new Counted("drift, %s, %s readings, record of %s".formatted(kind.text(), n, record));
    for (int i = 0; i < sets; i++) {
      double[] t = times(n);
      SlowDrift drift = SlowDrift.of(k -> t[k], kind.drawn(random, n));
      Optional<LongRecord> beside =
          record == 0
              ? Optional.empty()
              : Optional.of(LongRecord.of("r", times(record), kind.drawn(random, record)));
      double u = drift.interval(beside, 1, 0.9545).expanded().orElseThrow();
      counted.add(drift.slope(), u);
    }
    return counted;
  }

  @Test
  void aHundredSetsAlone() {
    counted(NoiseKind.WHITE, 60, 0, 100).holds(0.95, 1.8);
    counted(NoiseKind.AR_08, 60, 0, 100).holds(0.95, 5);
    counted(NoiseKind.FLICKER, 60, 0, 100).holds(0.95, 1.8);
    counted(NoiseKind.WALK, 60, 0, 100).holds(0.90, 1.3);
  }

  @Test
  void fewSetsWithARecord() {
    counted(NoiseKind.WALK, 30, 1000, 40).holds(0.94, 1.15);
    counted(NoiseKind.WHITE_FLICKER, 30, 1000, 40).holds(0.94, 1.15);
  }

  @Tag("campaign")
  @Test
  void twoThousandSetsAlone() {
    List<Executable> cases = new ArrayList<>();
    for (int n : new int[] {30, 60, 240}) {
      for (NoiseKind kind : NoiseKind.values()) {
        boolean walks = kind == NoiseKind.WALK;
        // White noise and a random walk that are alike: no method does better (6.3).
        double least = kind == NoiseKind.WHITE_WALK ? 0.73 : walks ? 0.87 : 0.94;
        cases.add(() -> counted(kind, n, 0, SETS).holds(least, 5));
      }
    }
    assertAll(cases);
  }

  @Tag("campaign")
  @Test
  void twoThousandSetsWithARecord() {
    List<Executable> cases = new ArrayList<>();
    for (int n : new int[] {10, 60, 240}) {
      for (NoiseKind kind : NoiseKind.values()) {
        cases.add(() -> counted(kind, n, 1000, SETS).holds(0.94, n == 240 ? 1.25 : 1.15));
      }
    }
    assertAll(cases);
  }
}
