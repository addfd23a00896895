// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.CholeskyDecomposition;
import org.apache.commons.math3.optim.MaxEval;
import org.apache.commons.math3.optim.nonlinear.scalar.GoalType;
import org.apache.commons.math3.optim.univariate.BrentOptimizer;
import org.apache.commons.math3.optim.univariate.SearchInterval;
import org.apache.commons.math3.optim.univariate.UnivariateObjectiveFunction;

/**
 * The generalized least-squares problem of one range: the points' rows, weighted by their
 * covariance, and one more row per term with prior knowledge (methods.md 11.1, 11.2). Immutable and
 * thread-safe.
 */
final class RangeLeastSquaresProblem {
  private static final double LEAST_D_K = 5.5;
  private static final double MOST_D_K = 16;
  private static final double TOLERANCE = 1e-4;
  private static final int MOST_STEPS = 500;

  /** Start of the search for D, K. */
  private static final double[] STARTS_K = {5.5, 6.5, 7.5, 8.5, 9.5, 10.5, 12, 14, 16};

  private final ResponseFitPoints measured;
  private final CoefficientPriors priors;
  private final ResponsePointErrors errors;
  private final double[] y;

  RangeLeastSquaresProblem(
      ResponseFitPoints measured, CoefficientPriors priors, ResponsePointErrors errors) {
    this.measured = measured;
    this.priors = priors;
    this.errors = errors;
    this.y = new double[measured.points().size()];
    Arrays.setAll(y, measured::y);
  }

  ResponseFitPoints measured() {
    return measured;
  }

  CoefficientPriors priors() {
    return priors;
  }

  ResponsePointErrors errors() {
    return errors;
  }

  /** The fit for a scatter s between visits, a number (not ppm). */
  FitAtVisitScatter fit(double s) {
    CholeskyDecomposition root = root(s);
    double[][] lower = root.getL().getData();
    Householder base = new Householder(rightSide(lower));
    double[][] fixed = fixedColumns(lower);
    for (double[] column : fixed) {
      base.add(column);
    }
    double dK = doubling(base, lower);
    Householder whole = withDoubling(base, lower, dK);
    double[] bare = whole.solution();
    double[] doubled =
        Arrays.copyOfRange(
            bare, priors.terms().fixed().size(), priors.terms().fixed().size() + doublingCount());
    double logC = 0;
    for (int i = 0; i < lower.length; i++) {
      logC += 2 * Math.log(lower[i][i]);
    }
    CoefficientPrior rowOfD = priors.doublingRow(dK);
    Householder last = finished(lower, dK, doubled, rowOfD);
    double log = -0.5 * (logC + last.logDeterminant() + last.residual());
    return new FitAtVisitScatter(s, dK, doubled, last, lower, log);
  }

  private int doublingCount() {
    return priors.terms().doubling().size();
  }

  /** The root of C + s^2 within visits. */
  private CholeskyDecomposition root(double s) {
    double[][] c = errors.covariance();
    double[][] with = Arrays.stream(c).map(double[]::clone).toArray(double[][]::new);
    for (ResponseFitPoints.Visit visit : measured.visits()) {
      for (int i : visit.members()) {
        for (int j : visit.members()) {
          with[i][j] += s * s;
        }
      }
    }
    return new CholeskyDecomposition(new Array2DRowRealMatrix(with, false), 1e-9, 0);
  }

  /** L^-1 of the points' part, followed by the prior rows. */
  private double[] weighed(double[][] lower, double[] points, int column) {
    int n = points.length;
    double[] all = new double[Math.max(n + priors.rows().size() + 1, priors.terms().count())];
    for (int i = 0; i < n; i++) {
      double sum = points[i];
      for (int j = 0; j < i; j++) {
        sum -= lower[i][j] * all[j];
      }
      all[i] = sum / lower[i][i];
    }
    for (int k = 0; k < priors.rows().size(); k++) {
      CoefficientPrior row = priors.rows().get(k);
      all[n + k] = (column < 0 ? row.mean() : row.weights()[column]) / row.sd();
    }
    return all;
  }

  private double[] rightSide(double[][] lower) {
    return weighed(lower, y, -1);
  }

  private double[][] fixedColumns(double[][] lower) {
    int p = priors.terms().fixed().size();
    double[][] columns = new double[p][y.length];
    double[] row = new double[p];
    for (int i = 0; i < y.length; i++) {
      priors.terms().fixed(measured.places().get(i), row);
      for (int k = 0; k < p; k++) {
        columns[k][i] = row[k];
      }
    }
    for (int k = 0; k < p; k++) {
      columns[k] = weighed(lower, columns[k], k);
    }
    return columns;
  }

  private List<double[]> doublingColumns(double[][] lower, double dK) {
    int p = doublingCount();
    double[][] columns = new double[p][y.length];
    double[] row = new double[p];
    for (int i = 0; i < y.length; i++) {
      priors.terms().doubling(measured.places().get(i), dK, row, 0);
      for (int k = 0; k < p; k++) {
        columns[k][i] = row[k];
      }
    }
    List<double[]> all = new ArrayList<>();
    for (int k = 0; k < p; k++) {
      all.add(weighed(lower, columns[k], priors.terms().fixed().size() + k));
    }
    return all;
  }

  private Householder withDoubling(Householder base, double[][] lower, double dK) {
    Householder whole = base.copy();
    doublingColumns(lower, dK).forEach(whole::add);
    return whole;
  }

  /**
   * The D of greatest restricted likelihood times prior; the prior's mean if the data do not depend
   * on D.
   */
  private double doubling(Householder base, double[][] lower) {
    if (doublingCount() == 0 || measured.temperatures().size() < 2) {
      return Math.max(LEAST_D_K, Math.min(MOST_D_K, priors.doublingK()));
    }
    double best = STARTS_K[0];
    double most = Double.NEGATIVE_INFINITY;
    int at = 0;
    for (int i = 0; i < STARTS_K.length; i++) {
      double now = likelihood(base, lower, STARTS_K[i]);
      if (now > most) {
        most = now;
        best = STARTS_K[i];
        at = i;
      }
    }
    double from = STARTS_K[Math.max(0, at - 1)];
    double to = STARTS_K[Math.min(STARTS_K.length - 1, at + 1)];
    double start = Math.max(from + 1e-3, Math.min(to - 1e-3, best));
    return new BrentOptimizer(TOLERANCE, TOLERANCE)
        .optimize(
            new MaxEval(MOST_STEPS),
            new UnivariateObjectiveFunction(d -> likelihood(base, lower, d)),
            GoalType.MAXIMIZE,
            new SearchInterval(from, to, start))
        .getPoint();
  }

  private double likelihood(Householder base, double[][] lower, double dK) {
    Householder whole = withDoubling(base, lower, dK);
    if (!whole.full()) {
      return -Double.MAX_VALUE;
    }
    double off = (dK - priors.doublingK()) / priors.doublingSdK();
    return -0.5 * (whole.logDeterminant() + whole.residual() + off * off);
  }

  /** The problem with one more column, dy/dD, and the prior row of D. */
  private Householder finished(
      double[][] lower, double dK, double[] doubled, CoefficientPrior rowOfD) {
    double[] right = rightSide(lower);
    right[y.length + priors.rows().size()] = rowOfD.mean() / rowOfD.sd();
    Householder last = new Householder(right);
    for (double[] column : fixedColumns(lower)) {
      last.add(column);
    }
    doublingColumns(lower, dK).forEach(last::add);
    double[] byD = new double[y.length];
    for (int i = 0; i < byD.length; i++) {
      byD[i] = priors.terms().byDoubling(measured.places().get(i), dK, doubled);
    }
    double[] column = weighed(lower, byD, priors.terms().count() - 1);
    column[y.length + priors.rows().size()] = 1 / rowOfD.sd();
    last.add(column);
    return last;
  }

  /** Whether points and rows determine all terms. */
  static boolean tells(FitAtVisitScatter fit) {
    return fit.solved().full();
  }
}
