// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.Quantiles;
import millrace.quantity.NumberText;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.QRDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.SingularValueDecomposition;

/**
 * What a reader of a slope must know of the curve behind it: how steep it is at T_ref where it is
 * curved, and whether visits scatter about a quadratic with a drift by more than their noise (99 %
 * point of chi squared; a flag, never blended into U; methods.md 5.2).
 */
final class TemperatureCurvature {
  private static final double SURE = 0.99;

  private final TemperatureStudy study;
  private final TemperatureLine line;
  private final double coverage;

  private TemperatureCurvature(TemperatureStudy study, TemperatureLine line, double coverage) {
    this.study = study;
    this.line = line;
    this.coverage = coverage;
  }

  /** Of a study with a quadratic fit; empty without one. */
  static Optional<TemperatureCurvature> of(TemperatureStudy study, double coverage) {
    return study.quadratic().map(line -> new TemperatureCurvature(study, line, coverage));
  }

  List<String> notes() {
    List<String> notes = new ArrayList<>();
    Budget b = Budget.of(line.quadraticPpmPerK2().forUse(line.use()));
    double size = Math.abs(line.quadraticPpmPerK2().value());
    if (b.sizesKnown()
        && b.standardUncertainty() > 0
        && size > b.uncertainty(coverage).expanded()) {
      Budget a = Budget.of(line.ppmPerK().forUse(line.use()));
      notes.add(
          NumberText.format(
              "the curve is bent: its tangent at T_ref is %.4g ppm/K, U %.2g ppm/K"
                  + " (tempco_quadratic_a)",
              line.ppmPerK().value(), a.uncertainty(coverage).expanded()));
    }
    if (misfit()) {
      notes.add(
          "the visits scatter about a quadratic with drift by more than their noise explains"
              + " (99 % point of chi squared): look for what else changed");
    }
    return notes;
  }

  private boolean misfit() {
    List<TemperaturePoint> points = study.points();
    int n = points.size();
    int free = line.timeTerm() ? 4 : 3;
    if (n <= free || points.stream().anyMatch(p -> p.currentA().pointUncertainty() == 0)) {
      return false;
    }
    List<Estimate> errors = new ArrayList<>();
    double[] ppm = new double[n];
    for (TemperaturePoint p : points) {
      double above = p.temperatureDegC().value() - study.referenceDegC();
      double slope = line.ppmPerK().value() + 2 * line.quadraticPpmPerK2().value() * above;
      Estimate moved = p.temperatureDegC().errorsOnly().times(-slope);
      Estimate error = study.ppm(p).plus(moved).forUse(line.use());
      ppm[errors.size()] = error.value();
      errors.add(error);
    }
    RealMatrix c = contrasts(n, free);
    double[] z = c.preMultiply(ppm);
    RealMatrix k = c.transpose().multiply(covariances(errors)).multiply(c);
    RealMatrix inverse = new SingularValueDecomposition(k).getSolver().getInverse();
    double q = new ArrayRealVector(z).dotProduct(inverse.operate(new ArrayRealVector(z)));
    return q > Quantiles.chiSquared(SURE, n - free);
  }

  /**
   * Of the visits, not of their contrasts: a contrast has the sources of all visits, a visit only
   * its own and those of the visits to T_ref.
   */
  private static RealMatrix covariances(List<Estimate> errors) {
    int n = errors.size();
    double[][] v = new double[n][n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j <= i; j++) {
        v[i][j] = Budget.covariance(errors.get(i), errors.get(j));
        v[j][i] = v[i][j];
      }
    }
    return new Array2DRowRealMatrix(v, false);
  }

  /** An orthonormal basis of what level, slope, curvature and drift leave. */
  private RealMatrix contrasts(int n, int free) {
    double[][] x = new double[n][free];
    for (int i = 0; i < n; i++) {
      TemperaturePoint p = study.points().get(i);
      double share = (p.temperatureDegC().value() - study.referenceDegC()) / study.spanK();
      x[i][0] = 1;
      x[i][1] = share;
      x[i][2] = share * share;
      if (free > 3) {
        x[i][3] = p.timeS() - study.points().get(0).timeS();
      }
    }
    double longest = 0;
    for (double[] row : x) {
      longest = Math.max(longest, row[free - 1]);
    }
    for (double[] row : x) {
      row[free - 1] /= free > 3 ? longest : 1;
    }
    RealMatrix q = new QRDecomposition(new Array2DRowRealMatrix(x)).getQ();
    return q.getSubMatrix(0, n - 1, free, n - 1);
  }
}
