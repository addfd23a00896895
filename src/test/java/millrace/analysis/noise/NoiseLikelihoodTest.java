// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.LUDecomposition;
import org.apache.commons.math3.linear.QRDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.junit.jupiter.api.Test;

/** The likelihood is that of the definition, law by law (methods.md 2.1). */
class NoiseLikelihoodTest {
  private static final int N = 14;

  @Test
  void squaresAndDeterminantsAreThoseOfTheDefinition() {
    Random random = new Random(4);
    double[] t = new double[N];
    for (int i = 1; i < N; i++) {
      t[i] = t[i - 1] + 0.5 + random.nextDouble() + (i == 7 ? 30 : 0);
    }
    double[] y = Noises.walk(random, N);
    double[] first = new double[N];
    double[] second = new double[N];
    Arrays.fill(first, 0, 7, 1);
    Arrays.fill(second, 7, N, 1);
    NoiseLaws laws = NoiseLaws.of(240, false);
    LawEvidence found = NoiseLikelihood.of(t, y, List.of(first, second)).evidence(laws);
    RealMatrix c = contrasts(first, second);
    for (int law = 0; law < laws.size(); law++) {
      RealMatrix inside = c.transpose().multiply(covariance(laws, law, t)).multiply(c);
      LUDecomposition lu = new LUDecomposition(inside);
      double[] z = c.preMultiply(y);
      RealMatrix column = new Array2DRowRealMatrix(z);
      double rss = column.transpose().multiply(lu.getSolver().solve(column)).getEntry(0, 0);
      assertEquals(1, found.squares()[law] / rss, 1e-8, "law " + law);
      assertEquals(Math.log(lu.getDeterminant()), found.lnDeterminant()[law], 1e-7, "law " + law);
    }
    assertEquals(N - 2, found.degrees());
  }

  private static RealMatrix contrasts(double[] first, double[] second) {
    double[][] x = {first, second};
    RealMatrix q = new QRDecomposition(new Array2DRowRealMatrix(x).transpose()).getQ();
    return q.getSubMatrix(0, N - 1, 2, N - 1);
  }

  private static RealMatrix covariance(NoiseLaws laws, int law, double[] t) {
    double[][] k = new double[N][N];
    NoiseCovarianceKernel kernel = laws.kernels().get(laws.kernel(law));
    for (int i = 0; i < N; i++) {
      for (int j = 0; j < N; j++) {
        double white = i == j ? laws.white(law) : 0;
        k[i][j] = white + laws.amount(law) * kernel.at(Math.abs(t[i] - t[j]));
      }
    }
    return new Array2DRowRealMatrix(k);
  }
}
