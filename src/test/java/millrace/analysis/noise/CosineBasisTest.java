// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The fast sums are those of the definition, for any length (methods.md 6.3). */
class CosineBasisTest {
  private static double basis(int k, int i, int n) {
    return Math.sqrt(2.0 / n) * Math.cos(Math.PI * k * (2 * i + 1) / (2.0 * n));
  }

  @ParameterizedTest
  @ValueSource(ints = {3, 10, 37, 64, 98})
  void coefficientsAreThoseOfTheDefinition(int n) {
    double[] y = Noises.white(new Random(n), n);
    double[] expected = new double[n - 1];
    for (int k = 1; k < n; k++) {
      for (int i = 0; i < n; i++) {
        expected[k - 1] += basis(k, i, n) * y[i];
      }
    }
    assertArrayEquals(expected, new CosineBasis(n).coefficients(y), 1e-12);
  }

  @ParameterizedTest
  @ValueSource(ints = {3, 10, 37, 64})
  void variancesAreTheDiagonalOfTheCovariance(int n) {
    NoiseCovarianceKernel[] kernels = {
      NoiseCovarianceKernel.WHITE,
      NoiseCovarianceKernel.FLICKER,
      NoiseCovarianceKernel.WALK,
      NoiseCovarianceKernel.WALK_OF_MEANS,
      NoiseCovarianceKernel.autoregression(0.15),
      NoiseCovarianceKernel.autoregression(0.97)
    };
    for (NoiseCovarianceKernel kernel : kernels) {
      double[] found = new CosineBasis(n).variances(kernel);
      for (int k = 1; k < n; k++) {
        double expected = 0;
        for (int i = 0; i < n; i++) {
          for (int j = 0; j < n; j++) {
            expected += basis(k, i, n) * basis(k, j, n) * kernel.at(Math.abs(i - j));
          }
        }
        assertEquals(expected, found[k - 1], 1e-9 * Math.max(1, expected), kernel + " k " + k);
      }
    }
  }

  /** The Allan variance of flicker noise of level h is 2 h ln 2 (NIST SP 1065, from memory). */
  @Test
  void neighbouringMeansOfFlickerNoiseDifferByTheAllanVariance() {
    assertEquals(4 * Math.log(2), NoiseCovarianceKernel.flicker(1), 1e-12);
    assertEquals(
        NoiseCovarianceKernel.flicker(299.999), NoiseCovarianceKernel.flicker(300.001), 1e-4);
  }
}
