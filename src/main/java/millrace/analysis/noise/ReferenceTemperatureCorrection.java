// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.SingularValueDecomposition;

/**
 * Corrects readings that were taken close to T_ref to T_ref itself (methods.md 5.10): soaks end up
 * to a kelvin apart, and what that makes of the current is no noise. Immutable and thread-safe.
 */
public final class ReferenceTemperatureCorrection {
  private static final int HIGHEST_DEGREE = 3;

  /** Leakage doubles every 10 K or so (common practice, no source; methods.md 11). */
  private static final double DOUBLES_K = 10;

  private final Reference reference;
  private final double scaleK;
  private final double scaleV;
  private final double[] coefficients;

  private ReferenceTemperatureCorrection(
      Reference reference, double scaleK, double scaleV, double[] coefficients) {
    this.reference = reference;
    this.scaleK = scaleK;
    this.scaleV = scaleV;
    this.coefficients = coefficients;
  }

  /**
   * T_ref, and how far a reading may be from it to count as one at T_ref.
   *
   * @param degC T_ref, degC
   * @param nearK the distance, K, from 0; temperatures within it of each other are one
   */
  public record Reference(double degC, double nearK) {
    boolean has(double otherDegC) {
      return Math.abs(otherDegC - degC) <= nearK;
    }
  }

  /**
   * The mean of the readings of a point.
   *
   * @param condition what else it was taken at: points alike have one level at one temperature
   * @param degC its temperature, degC
   * @param loadV the voltage of its load, V, from 0
   * @param value the mean, in the unit of the readings
   */
  public record PointMean(String condition, double degC, double loadV, double value) {}

  /**
   * Fits y = level of the condition + sum over k of (a_k + b_k V) (T - T_ref)^k by least squares, k
   * from 1 to the number of temperatures away from T_ref, at most 3 (own choice; methods.md 5.10).
   *
   * @param points their means; may be empty
   * @param reference T_ref
   * @return the correction; it is 0 where no other temperature was visited
   */
  public static ReferenceTemperatureCorrection of(
      Collection<PointMean> points, Reference reference) {
    int degree = Math.min(HIGHEST_DEGREE, awayFrom(reference, points));
    double scaleK =
        points.stream().mapToDouble(p -> Math.abs(p.degC() - reference.degC())).max().orElse(0);
    double highestV = points.stream().mapToDouble(PointMean::loadV).max().orElse(0);
    ReferenceTemperatureCorrection none =
        new ReferenceTemperatureCorrection(
            reference, scaleK, highestV > 0 ? highestV : 1, new double[0]);
    return degree == 0 ? none : none.fitted(points, degree);
  }

  /** The number of other temperatures. */
  private static int awayFrom(Reference reference, Collection<PointMean> points) {
    TreeSet<Double> away = new TreeSet<>();
    for (PointMean p : points) {
      boolean seen =
          reference.has(p.degC())
              || away.stream().anyMatch(t -> Math.abs(t - p.degC()) <= reference.nearK());
      if (!seen) {
        away.add(p.degC());
      }
    }
    return away.size();
  }

  private ReferenceTemperatureCorrection fitted(Collection<PointMean> points, int degree) {
    Map<String, List<PointMean>> alike = new LinkedHashMap<>();
    points.forEach(p -> alike.computeIfAbsent(p.condition(), c -> new ArrayList<>()).add(p));
    double[][] x = new double[points.size()][];
    double[] y = new double[points.size()];
    int at = 0;
    for (List<PointMean> level : alike.values()) {
      int from = at;
      for (PointMean p : level) {
        x[at] = powers(p.degC(), p.loadV(), degree);
        y[at++] = p.value();
      }
      takeMeanOff(x, y, from, at);
    }
    // Singular values serve where the load never changes: its columns are then multiples.
    double[] found =
        new SingularValueDecomposition(new Array2DRowRealMatrix(x))
            .getSolver()
            .solve(new ArrayRealVector(y))
            .toArray();
    return new ReferenceTemperatureCorrection(reference, scaleK, scaleV, found);
  }

  private double[] powers(double degC, double loadV, int degree) {
    double t = (degC - reference.degC()) / scaleK;
    double v = loadV / scaleV;
    double leakage = Math.pow(2, (degC - reference.degC()) / DOUBLES_K) - 1;
    double[] row = new double[2 * degree];
    for (int k = 0; k < degree; k++) {
      row[k] = Math.pow(t, k + 1);
      row[degree + k] = v * (k == 0 ? leakage : row[k - 1]);
    }
    return row;
  }

  /** The level of a condition is free. */
  private static void takeMeanOff(double[][] x, double[] y, int from, int to) {
    int n = to - from;
    double[] mean = new double[x[from].length];
    double level = 0;
    for (int i = from; i < to; i++) {
      level += y[i] / n;
      for (int k = 0; k < mean.length; k++) {
        mean[k] += x[i][k] / n;
      }
    }
    for (int i = from; i < to; i++) {
      y[i] -= level;
      for (int k = 0; k < mean.length; k++) {
        x[i][k] -= mean[k];
      }
    }
  }

  /**
   * By how much a reading differs for its distance from T_ref: sum over k of (a_k + b_k V) (T -
   * T_ref)^k (methods.md 5.10).
   *
   * @param degC its temperature, degC
   * @param loadV the voltage of its load, V
   * @return to be taken off, in the unit of the readings; 0 where it is not near T_ref, since other
   *     visits have levels of their own
   */
  public double offset(double degC, double loadV) {
    if (coefficients.length == 0 || !reference.has(degC)) {
      return 0;
    }
    double[] row = powers(degC, loadV, coefficients.length / 2);
    return new ArrayRealVector(row).dotProduct(new ArrayRealVector(coefficients));
  }
}
