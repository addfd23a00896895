// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.variance;

import java.util.stream.IntStream;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.LUDecomposition;
import org.apache.commons.math3.linear.NonPositiveDefiniteMatrixException;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;
import org.apache.commons.math3.linear.SingularMatrixException;

/**
 * The last digits of the ratios that fit best. A search for the least deviance ends at half of the
 * digits of a double, since the deviance is flat there; where its derivative vanishes they are all
 * told, the same on every processor (methods.md 8.2). Stateless.
 */
final class StationaryRatios {
  private static final double STEP = 1e-5;

  /** A search that ended further away did not end at a least value. */
  private static final double FARTHEST = 1e-3;

  private static final int ROUNDS = 4;

  private StationaryRatios() {}

  /**
   * Refines.
   *
   * @param likelihood of the values
   * @param found ratios near the best; 0 stays 0
   * @return the best ratios near them, or the same if there are none
   */
  static double[] near(RestrictedLikelihood likelihood, double[] found) {
    int[] free = IntStream.range(0, found.length).filter(f -> found[f] > 0).toArray();
    if (free.length == 0) {
      return found;
    }
    double[] ratios = found.clone();
    try {
      LUDecomposition slopes = new LUDecomposition(slopes(likelihood, found, free));
      for (int round = 0; round < ROUNDS; round++) {
        RealVector step = slopes.getSolver().solve(imbalance(likelihood, ratios, free));
        for (int i = 0; i < free.length; i++) {
          ratios[free[i]] *= Math.exp(-step.getEntry(i));
        }
      }
    } catch (SingularMatrixException | NonPositiveDefiniteMatrixException flat) {
      return found; // as of values that do not scatter within a group
    }
    return close(found, ratios, free) ? ratios : found;
  }

  private static boolean close(double[] found, double[] ratios, int[] free) {
    for (int f : free) {
      if (!(Math.abs(ratios[f] / found[f] - 1) < FARTHEST)) {
        return false;
      }
    }
    return true;
  }

  private static RealVector imbalance(
      RestrictedLikelihood likelihood, double[] ratios, int[] free) {
    double[] all = likelihood.imbalance(ratios);
    RealVector some = new ArrayRealVector(free.length);
    for (int i = 0; i < free.length; i++) {
      some.setEntry(i, all[free[i]]);
    }
    return some;
  }

  /** By the logarithm of each ratio. */
  private static RealMatrix slopes(RestrictedLikelihood likelihood, double[] ratios, int[] free) {
    RealMatrix slopes = new Array2DRowRealMatrix(free.length, free.length);
    for (int i = 0; i < free.length; i++) {
      double[] up = ratios.clone();
      double[] down = ratios.clone();
      up[free[i]] *= Math.exp(STEP);
      down[free[i]] *= Math.exp(-STEP);
      slopes.setColumnVector(
          i,
          imbalance(likelihood, up, free)
              .subtract(imbalance(likelihood, down, free))
              .mapDivide(2 * STEP));
    }
    return slopes;
  }
}
