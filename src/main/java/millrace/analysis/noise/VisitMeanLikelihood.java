// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.CholeskyDecomposition;
import org.apache.commons.math3.linear.QRDecomposition;
import org.apache.commons.math3.linear.RealMatrix;

/**
 * What the means of a few visits tell of each law, their one level free, a drift too if it is asked
 * for (methods.md 5.10). Immutable and thread-safe.
 */
final class VisitMeanLikelihood {
  private final List<PointReadings> visits;
  private final double intervalS;
  private final boolean timed;

  private VisitMeanLikelihood(List<PointReadings> visits, double intervalS, boolean timed) {
    this.visits = visits;
    this.intervalS = intervalS;
    this.timed = timed;
  }

  /** Of the points of visits, each condition's own mean taken off. */
  static VisitMeanLikelihood of(List<PointReadings> points, double intervalS, boolean timed) {
    Map<String, List<PointReadings>> alike = new LinkedHashMap<>();
    points.forEach(p -> alike.computeIfAbsent(p.condition(), c -> new ArrayList<>()).add(p));
    Map<String, Double> levels = new LinkedHashMap<>();
    alike.forEach(
        (c, each) ->
            levels.put(c, each.stream().mapToDouble(PointReadings::mean).average().orElse(0)));
    Map<Integer, List<PointReadings>> visits = new LinkedHashMap<>();
    points.forEach(p -> visits.computeIfAbsent(p.visit(), v -> new ArrayList<>()).add(p));
    return new VisitMeanLikelihood(
        visits.values().stream().map(v -> together(v, levels)).toList(), intervalS, timed);
  }

  private static PointReadings together(List<PointReadings> visit, Map<String, Double> levels) {
    List<Double> times = new ArrayList<>();
    List<Double> values = new ArrayList<>();
    for (PointReadings p : visit) {
      double[] t = p.timesS();
      double[] y = p.values();
      for (int i = 0; i < t.length; i++) {
        times.add(t[i]);
        values.add(y[i] - levels.get(p.condition()));
      }
    }
    PointReadings first = visit.get(0);
    return new PointReadings(
        first.name(),
        first.visit(),
        true,
        "",
        times.stream().mapToDouble(Double::doubleValue).toArray(),
        values.stream().mapToDouble(Double::doubleValue).toArray());
  }

  LawEvidence evidence(NoiseLaws laws) {
    int n = visits.size();
    int free = timed ? 2 : 1;
    if (n <= free) {
      return LawEvidence.nothing(laws.size());
    }
    double[][] x = new double[n][free];
    double[] y = new double[n];
    for (int i = 0; i < n; i++) {
      x[i][0] = 1;
      if (timed) {
        x[i][1] = (visits.get(i).middleS() - visits.get(0).middleS()) / intervalS;
      }
      y[i] = visits.get(i).mean();
    }
    RealMatrix c =
        new QRDecomposition(new Array2DRowRealMatrix(x)).getQ().getSubMatrix(0, n - 1, free, n - 1);
    PointMeanCovariances all = PointMeanCovariances.of(laws.kernels(), visits, intervalS);
    double[] z = c.preMultiply(y);
    double[] squares = new double[laws.size()];
    double[] determinants = new double[laws.size()];
    for (int i = 0; i < squares.length; i++) {
      RealMatrix k =
          new Array2DRowRealMatrix(all.of(0))
              .scalarMultiply(laws.white(i))
              .add(new Array2DRowRealMatrix(all.of(laws.kernel(i))).scalarMultiply(laws.amount(i)));
      RealMatrix inside = c.transpose().multiply(k).multiply(c);
      // Rounding leaves it uneven where two visits hardly differ.
      RealMatrix even = inside.add(inside.transpose()).scalarMultiply(0.5);
      CholeskyDecomposition cholesky = new CholeskyDecomposition(even, 1e-9, 0);
      determinants[i] = Math.log(cholesky.getDeterminant());
      double[] solved = cholesky.getSolver().solve(new ArrayRealVector(z)).toArray();
      for (int j = 0; j < z.length; j++) {
        squares[i] += z[j] * solved[j];
      }
    }
    return new LawEvidence(squares, determinants, z.length);
  }
}
