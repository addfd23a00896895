// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.drift;

import java.util.function.DoubleBinaryOperator;
import java.util.function.DoubleUnaryOperator;
import org.apache.commons.math3.analysis.integration.gauss.GaussIntegrator;
import org.apache.commons.math3.analysis.integration.gauss.GaussIntegratorFactory;
import org.apache.commons.math3.analysis.solvers.BrentSolver;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.LUDecomposition;
import org.apache.commons.math3.linear.RealMatrix;

/**
 * How many values a chart takes on average until it signals, as the solution of the integral
 * equation of the chart at the nodes of a Gauss-Legendre rule: Goel and Wu, Technometrics 13 (1971)
 * 221, for cumulative sums; Crowder, Technometrics 29 (1987) 401, for moving averages (both from
 * memory; methods.md 8.1). Scores are independent and normal with standard deviation 1. Stateless.
 */
public final class AverageRunLength {
  private static final int NODES = 40;
  private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);
  private static final GaussIntegratorFactory RULES = new GaussIntegratorFactory();
  private static final double WIDEST = 20;
  private static final int TRIES = 100;

  private AverageRunLength() {}

  /**
   * Of cumulative sums to both sides: 1/L = 1/L_up + 1/L_down (Van Dobben de Bruyn, from memory).
   *
   * @param k what is taken from each score, above 0
   * @param h a sum beyond is a signal, above 0
   * @param shift mean of the scores, in standard deviations
   * @return 1 or more
   */
  public static double ofCusum(double k, double h, double shift) {
    return 1 / (1 / oneSided(k, h, shift) + 1 / oneSided(k, h, -shift));
  }

  private static double oneSided(double k, double h, double shift) {
    DoubleBinaryOperator density = (from, to) -> NORMAL.density(to - from + k - shift);
    DoubleUnaryOperator toZero = from -> NORMAL.cumulativeProbability(k - shift - from);
    GaussIntegrator rule = rule(0, h);
    // Unknowns: the run length from zero, then from each node.
    RealMatrix a = new Array2DRowRealMatrix(NODES + 1, NODES + 1);
    for (int i = 0; i <= NODES; i++) {
      double from = i == 0 ? 0 : rule.getPoint(i - 1);
      a.setEntry(i, 0, -toZero.applyAsDouble(from));
      for (int j = 1; j <= NODES; j++) {
        double to = rule.getPoint(j - 1);
        a.setEntry(i, j, -rule.getWeight(j - 1) * density.applyAsDouble(from, to));
      }
      a.addToEntry(i, i, 1);
    }
    double length = solved(a)[0];
    // Away from the shift it grows beyond what the equations can tell from endless.
    return length >= 1 ? length : Double.POSITIVE_INFINITY;
  }

  /**
   * Of an exponentially weighted moving average with fixed limits, from its centre.
   *
   * @param lambda weight of the newest score, above 0, at most 1
   * @param widthFactor limit in standard deviations of the average, above 0
   * @param shift mean of the scores, in standard deviations
   * @return 1 or more
   */
  public static double ofMovingAverage(double lambda, double widthFactor, double shift) {
    double c = MovingAverage.limit(lambda, widthFactor);
    GaussIntegrator rule = rule(-c, c);
    RealMatrix a = new Array2DRowRealMatrix(NODES, NODES);
    for (int i = 0; i < NODES; i++) {
      for (int j = 0; j < NODES; j++) {
        a.setEntry(i, j, -weighted(rule, j, lambda, rule.getPoint(i), shift));
      }
      a.addToEntry(i, i, 1);
    }
    double[] from = solved(a);
    double atCentre = 1;
    for (int j = 0; j < NODES; j++) {
      atCentre += weighted(rule, j, lambda, 0, shift) * from[j];
    }
    return atCentre;
  }

  private static double weighted(
      GaussIntegrator rule, int j, double lambda, double from, double shift) {
    double z = (rule.getPoint(j) - (1 - lambda) * from) / lambda;
    return rule.getWeight(j) * NORMAL.density(z - shift) / lambda;
  }

  private static GaussIntegrator rule(double from, double to) {
    return RULES.legendre(NODES, from, to);
  }

  private static double[] solved(RealMatrix a) {
    ArrayRealVector ones = new ArrayRealVector(a.getRowDimension(), 1);
    return new LUDecomposition(a, 0).getSolver().solve(ones).toArray();
  }

  /**
   * The h of cumulative sums that signal falsely once in so many values.
   *
   * @param k what is taken from each score, above 0
   * @param falsely average run length without a shift, 10 to 1e8
   * @return h
   */
  public static double cusumLimit(double k, double falsely) {
    return solvedFor(h -> ofCusum(k, h, 0), falsely);
  }

  /**
   * The limit of a moving average that signals falsely once in so many values.
   *
   * @param lambda weight of the newest score, above 0, at most 1
   * @param falsely average run length without a shift, 10 to 1e8
   * @return in standard deviations of the average
   */
  public static double movingAverageFactor(double lambda, double falsely) {
    return solvedFor(factor -> ofMovingAverage(lambda, factor, 0), falsely);
  }

  private static double solvedFor(DoubleUnaryOperator lengthOf, double wanted) {
    double most = 1;
    while (lengthOf.applyAsDouble(most) < wanted && most < WIDEST) {
      most++;
    }
    double target = Math.log(wanted);
    return new BrentSolver(1e-9)
        .solve(
            TRIES,
            x -> Math.log(lengthOf.applyAsDouble(x)) - target,
            Math.max(0.1, most - 1),
            most);
  }
}
