// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.regression;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.SplittableRandom;
import millrace.time.Seeds;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Held against all slopes, sorted. */
class PairSlopesTest {
  /** Whole numbers make ties and slopes of zero; 400 points have more pairs than are sorted. */
  @ParameterizedTest
  @ValueSource(ints = {3, 60, 400})
  void findsTheSlopesOfAnyRankAsSortingDoes(int points) {
    SplittableRandom random = new Seeds(20).stream("slopes");
    double[] x = random.doubles(points).map(u -> Math.rint(300 * u)).toArray();
    double[] y = random.doubles(points).map(u -> Math.rint(40 * u) - 20).toArray();
    x[0] = -1;
    y[1] = 1e-300;
    double[] sorted = sorted(x, y);
    PairSlopes slopes = new PairSlopes(x, y);
    assertEquals(sorted.length, slopes.count());
    assertTrue(points < 400 || slopes.count() > PairSlopes.FEW);
    int last = sorted.length - 1;
    int[] ranks = {0, last, last / 2, last / 3, last / 7, 2};
    assertArrayEquals(
        Arrays.stream(ranks).mapToDouble(r -> sorted[r]).toArray(), slopes.ofRanks(ranks), 0.0);
  }

  private static double[] sorted(double[] x, double[] y) {
    double[] all = new double[x.length * x.length];
    int n = 0;
    for (int i = 0; i < x.length; i++) {
      for (int j = i + 1; j < x.length; j++) {
        if (x[i] != x[j]) {
          all[n++] = (y[j] - y[i]) / (x[j] - x[i]);
        }
      }
    }
    return Arrays.stream(all, 0, n).sorted().toArray();
  }
}
