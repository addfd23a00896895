// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.util.Map;
import java.util.SplittableRandom;
import java.util.concurrent.ConcurrentHashMap;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.EigenDecomposition;
import org.apache.commons.math3.linear.RealMatrix;

/**
 * Draws the noise of points as the mixture of laws has it: a law by its probability, its scale by
 * its degrees of freedom, then the means of all points together (JCGM 101:2008, 6.4; methods.md
 * 2.5, 5.10). Thread-safe.
 */
final class PointNoiseSampler {
  private final NoiseLawMixture mixture;
  private final NoiseLaws laws;
  private final PointMeanCovariances covariances;
  private final double[] shares;
  private final Map<Integer, double[][]> roots = new ConcurrentHashMap<>();

  /**
   * Made for points.
   *
   * @param mixture how probable each law is
   * @param laws the laws
   * @param covariances of the points under each kernel
   * @param shares of all readings that each point has
   */
  PointNoiseSampler(
      NoiseLawMixture mixture, NoiseLaws laws, PointMeanCovariances covariances, double[] shares) {
    this.mixture = mixture;
    this.laws = laws;
    this.covariances = covariances;
    this.shares = shares.clone();
  }

  /** The errors of the points' means, in ppm. */
  double[] next(SplittableRandom random) {
    int law = 0;
    double at = random.nextDouble() - mixture.probability(0);
    while (at > 0 && law < laws.size() - 1) {
      law++;
      at -= mixture.probability(law);
    }
    double[][] root = roots.computeIfAbsent(law, this::root);
    double scale = Math.sqrt(mixture.drawnScale(law, random));
    double[] z = new double[root.length];
    for (int i = 0; i < z.length; i++) {
      z[i] = random.nextGaussian() * scale;
    }
    double[] errors = new double[z.length];
    for (int i = 0; i < z.length; i++) {
      for (int j = 0; j < z.length; j++) {
        errors[i] += root[i][j] * z[j];
      }
    }
    return errors;
  }

  /**
   * A square root of the covariance; what has no variance of a mean is taken about all readings.
   */
  private double[][] root(int law) {
    RealMatrix own = new Array2DRowRealMatrix(covariances.of(laws.kernel(law)));
    if (laws.kernels().get(laws.kernel(law)).needsContrast()) {
      RealMatrix centring = centring();
      own = centring.multiply(own).multiply(centring.transpose());
    }
    RealMatrix all =
        new Array2DRowRealMatrix(covariances.of(0))
            .scalarMultiply(laws.white(law))
            .add(own.scalarMultiply(laws.amount(law)));
    EigenDecomposition e = new EigenDecomposition(all.add(all.transpose()).scalarMultiply(0.5));
    double[] values = e.getRealEigenvalues();
    double[][] root = e.getV().getData();
    for (double[] row : root) {
      for (int j = 0; j < row.length; j++) {
        row[j] *= Math.sqrt(Math.max(0, values[j]));
      }
    }
    return root;
  }

  private RealMatrix centring() {
    int n = shares.length;
    double[][] q = new double[n][n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        q[i][j] = (i == j ? 1 : 0) - shares[j];
      }
    }
    return new Array2DRowRealMatrix(q, false);
  }
}
