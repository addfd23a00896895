// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.util.SplittableRandom;
import java.util.concurrent.atomic.AtomicReferenceArray;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.EigenDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.jspecify.annotations.Nullable;

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
  private final AtomicReferenceArray<double @Nullable [][]> roots;

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
    this.roots = new AtomicReferenceArray<>(laws.size());
  }

  /** The errors of the points' means, in ppm. */
  double[] next(SplittableRandom random) {
    int law = 0;
    double at = random.nextDouble() - mixture.probability(0);
    while (at > 0 && law < laws.size() - 1) {
      law++;
      at -= mixture.probability(law);
    }
    double[][] root = root(law);
    double scale = Math.sqrt(mixture.drawnScale(law, random));
    double[] errors = new double[root.length];
    for (double[] column : root) {
      add(errors, column, random.nextGaussian() * scale);
    }
    return errors;
  }

  /** Column by column, since the sums over a row would each wait for the one before. */
  private static void add(double[] errors, double[] column, double z) {
    for (int i = 0; i < errors.length; i++) {
      errors[i] += column[i] * z;
    }
  }

  /** Of a law, once: several threads may find it at once, and find the same. */
  private double[][] root(int law) {
    double[][] known = roots.get(law);
    if (known == null) {
      known = found(law);
      roots.set(law, known);
    }
    return known;
  }

  /**
   * The columns of a square root of the covariance; what has no variance of a mean is taken about
   * all readings.
   */
  private double[][] found(int law) {
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
    double[][] columns = e.getVT().getData();
    for (int j = 0; j < columns.length; j++) {
      for (int i = 0; i < columns.length; i++) {
        columns[j][i] *= Math.sqrt(Math.max(0, values[j]));
      }
    }
    return columns;
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
