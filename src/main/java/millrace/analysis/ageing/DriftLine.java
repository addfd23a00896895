// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.ageing;

import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import millrace.analysis.regression.LinearFit;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ErrorDistribution;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.CholeskyDecomposition;
import org.apache.commons.math3.linear.MatrixUtils;
import org.apache.commons.math3.linear.NonPositiveDefiniteMatrixException;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;

/**
 * A straight line through the results of several visits of one unit over time, y = a + b (t - m),
 * by generalized least squares with the covariance V of the visits: (a, b) = (X' V^-1 X)^-1 X' V^-1
 * y (Aitken, Proc. R. Soc. Edinb. 55 (1935) 42, from memory; JCGM 100:2008, F.1.2.3 for V;
 * methods.md 13.1). What all visits share cancels in b and stays whole in a. Where the scatter
 * exceeds its 95 % bound the visits' own errors are widened by the Birge ratio, and the excess is
 * taken for a wander of the unit that a later day has too.
 *
 * <p>Immutable and thread-safe.
 */
public final class DriftLine {
  /** The fewest visits that leave something over to check the line by. */
  public static final int FEWEST = 3;

  /**
   * The group of errors of a visit that other visits may share, which nobody knows: independent in
   * the slope, and in the level whatever of the two is larger.
   */
  public static final String PERHAPS_SHARED = "perhaps shared by visits";

  private static final String SCATTER = "scatter about the line";
  private static final double RELATIVE_SYMMETRY = 1e-9;

  private final double middle;
  private final double[] level;
  private final double[] slope;
  private final List<Estimate> errors;
  private final double birge;
  private final double wander;

  private DriftLine(
      double middle,
      double[] level,
      double[] slope,
      List<Estimate> errors,
      double birge,
      double wander) {
    this.middle = middle;
    this.level = level;
    this.slope = slope;
    this.errors = errors;
    this.birge = birge;
    this.wander = wander;
  }

  /**
   * Fits (methods.md 13.1).
   *
   * @param days when each visit was, days from any day, not all the same
   * @param y the result of each visit with its errors; each with an error of its own
   * @return the line
   * @throws IllegalArgumentException if there are fewer than {@link #FEWEST} visits, a visit has no
   *     error of its own, or all are of one day
   */
  public static DriftLine of(double[] days, List<Estimate> y) {
    int n = days.length;
    if (n < FEWEST || y.size() != n) {
      throw new IllegalArgumentException(
          "%s days and %s results; expected at least %s of both".formatted(n, y.size(), FEWEST));
    }
    if (y.stream().anyMatch(e -> !(e.pointUncertainty() > 0))) {
      throw new IllegalArgumentException("a visit without an error of its own");
    }
    double middle = Arrays.stream(days).average().orElseThrow();
    RealMatrix root = root(y);
    double[] ones = new double[n];
    Arrays.fill(ones, 1);
    double[] from = Arrays.stream(days).map(d -> d - middle).toArray();
    double[] values = y.stream().mapToDouble(Estimate::value).toArray();
    double[][] columns = {whitened(root, ones), whitened(root, from)};
    LinearFit fit = LinearFit.of(columns, whitened(root, values), ones);
    double birge = fit.birgeFactor();
    double own = y.stream().mapToDouble(e -> square(e.pointUncertainty())).average().orElseThrow();
    return new DriftLine(
        middle,
        weights(root, fit.estimator(0)),
        weights(root, fit.estimator(1)),
        birge > 1 ? widened(y, birge) : y,
        birge,
        Math.sqrt((birge * birge - 1) * own));
  }

  /** The lower triangle L of the covariance, V = L L'. */
  private static RealMatrix root(List<Estimate> y) {
    int n = y.size();
    double[][] v = new double[n][n];
    double largest = 0;
    for (int i = 0; i < n; i++) {
      for (int j = 0; j <= i; j++) {
        v[i][j] = i == j ? square(y.get(i).standardUncertainty()) : y.get(i).covariance(y.get(j));
        v[j][i] = v[i][j];
      }
      largest = Math.max(largest, v[i][i]);
    }
    RealMatrix scaled = new Array2DRowRealMatrix(v, false).scalarMultiply(1 / largest);
    try {
      return new CholeskyDecomposition(scaled, RELATIVE_SYMMETRY, 0)
          .getL()
          .scalarMultiply(Math.sqrt(largest));
    } catch (NonPositiveDefiniteMatrixException e) {
      throw new IllegalArgumentException("visits whose own errors vanish beside shared ones", e);
    }
  }

  private static double[] whitened(RealMatrix root, double[] column) {
    RealVector solved = new ArrayRealVector(column);
    MatrixUtils.solveLowerTriangularSystem(root, solved);
    return solved.toArray();
  }

  /** The weights on results, from those on whitened results. */
  private static double[] weights(RealMatrix root, double[] estimator) {
    RealVector solved = new ArrayRealVector(estimator);
    MatrixUtils.solveUpperTriangularSystem(root.transpose(), solved);
    return solved.toArray();
  }

  private static List<Estimate> widened(List<Estimate> y, double birge) {
    OptionalDouble nu = OptionalDouble.of(y.size() - 2.0);
    return y.stream()
        .map(e -> e.widened(birge, ErrorSource::pointWise))
        .map(e -> e.withSources(s -> s.pointWise() ? s.sizedBy(nu, SCATTER) : s))
        .toList();
  }

  /**
   * The drift b.
   *
   * @return unit of the results per day, with its errors
   */
  public Estimate slopePerDay() {
    return Estimate.combine(0, slope, errors);
  }

  /**
   * The unit on a day: the line there. It carries what visits share, and the unit's wander where
   * the visits show one.
   *
   * @param day days from the same day as those of the visits
   * @return the estimate
   */
  public Estimate at(double day) {
    double[] weights = new double[level.length];
    for (int i = 0; i < weights.length; i++) {
      weights[i] = level[i] + (day - middle) * slope[i];
    }
    Estimate line = Estimate.combine(0, weights, errors);
    line = line.with(one("shared in part", Math.sqrt(missing(line)), OptionalDouble.empty()), 1);
    return line.with(one("wander between visits", wander, nu()), 1);
  }

  /**
   * By how much the squares of perhaps shared errors are larger where they are the same in all
   * visits: their parts add with their signs then.
   */
  private static double missing(Estimate line) {
    Map<String, double[]> sums = new HashMap<>();
    line.forEachPart(
        (source, part) -> {
          if (source.group().equals(PERHAPS_SHARED)) {
            double[] sum = sums.computeIfAbsent(source.component(), c -> new double[2]);
            sum[0] += part;
            sum[1] += part * part;
          }
        });
    return sums.values().stream().mapToDouble(s -> Math.max(0, s[0] * s[0] - s[1])).sum();
  }

  private static ErrorSource one(String component, double u, OptionalDouble nu) {
    return new ErrorSource(
        component, ErrorSource.RUN, "any day", ErrorDistribution.NORMAL, nu, u, "ppm", SCATTER);
  }

  private OptionalDouble nu() {
    return OptionalDouble.of(level.length - 2.0);
  }

  /**
   * By which factor the visits' own errors were widened.
   *
   * @return 1 or more; above 1 the line does not explain the scatter
   */
  public double birge() {
    return birge;
  }

  private static double square(double x) {
    return x * x;
  }
}
