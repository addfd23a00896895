// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.QRDecomposition;
import org.apache.commons.math3.linear.RealVector;
import org.apache.commons.math3.linear.SingularMatrixException;

/**
 * Finds the soft onset of the knee: a visit's current begins to fall before the criterion of the
 * compliance voltage is reached (methods.md 11.2: nothing past the soft onset). Loads are tested in
 * rising voltage. A load belongs to the plateau unless it lies below the parabola through those
 * before it by more than three times the amount that noise and the bends of methods.md 11.1
 * explain, plus a small margin. Two failures in a row, or one at the last load, end it.
 */
final class SoftKneeOnset {
  /** A fall below this is no onset, a number. */
  private static final double LITTLE = 2e-6;

  private static final int FIRST = 4;
  private static final double SURE = 3;
  private static final double SAME_LOAD = 0.01;
  private static final double BEND = 0.3;

  private final List<Load> loads = new ArrayList<>();
  private final double mostPerV;

  /** A load: magnitude of the voltage, V, mean y and its u by noise, numbers. */
  private record Load(double v, double y, double u, int n) {
    Load and(double otherV, double otherY, double otherU) {
      double sum = n + 1.0;
      return new Load(
          (v * n + otherV) / sum, (y * n + otherY) / sum, Math.hypot(u * n, otherU) / sum, n + 1);
    }
  }

  private SoftKneeOnset(List<ResponsePoint> points, RangeMeasurements data) {
    List<ResponsePoint> sorted = new ArrayList<>(points);
    sorted.sort(Comparator.comparingDouble(p -> Math.abs(p.voltageV().value())));
    for (ResponsePoint p : sorted) {
      double v = Math.abs(p.voltageV().value());
      double y = p.currentA().value() / data.nominalA() - 1;
      double u = p.currentA().pointUncertainty() / Math.abs(data.nominalA());
      Load last = loads.isEmpty() ? null : loads.get(loads.size() - 1);
      if (last != null && v - last.v() <= SAME_LOAD * v) {
        loads.set(loads.size() - 1, last.and(v, y, u));
      } else {
        loads.add(new Load(v, y, u, 1));
      }
    }
    this.mostPerV = loads.size() < 2 ? 0 : steepest();
  }

  private double steepest() {
    Load low = loads.get(0);
    Load high = loads.get(Math.min(loads.size() - 1, Math.max(FIRST - 1, loads.size() / 2)));
    return Math.abs((high.y() - low.y()) / (high.v() - low.v()));
  }

  /**
   * The highest voltage that belongs.
   *
   * @param points of one visit, one supply and set value, inside its edge
   * @param data of the range
   * @return magnitude, V; that of the highest load if nothing falls
   */
  static double lastV(List<ResponsePoint> points, RangeMeasurements data) {
    return new SoftKneeOnset(points, data).last();
  }

  private double last() {
    int inside = Math.min(FIRST, loads.size());
    while (inside < loads.size() && loads.get(inside).v() <= loads.get(loads.size() - 1).v() / 2) {
      inside++;
    }
    int good = inside;
    for (int next = inside; next < loads.size(); next++) {
      if (!falls(next, good)) {
        good = next + 1;
      } else if (next == loads.size() - 1 || falls(next + 1, good)) {
        break;
      }
    }
    return loads.get(good - 1).v();
  }

  /** Whether a load lies below the prediction from the first ones. */
  private boolean falls(int load, int first) {
    int order = first > FIRST ? 2 : 1;
    double[][] columns = new double[first][order + 1];
    double[] third = new double[first];
    double[] bow = new double[first];
    double[] y = new double[first];
    double scale = loads.get(load).v();
    for (int i = 0; i < first; i++) {
      double x = loads.get(i).v() / scale;
      for (int k = 0; k <= order; k++) {
        columns[i][k] = Math.pow(x, k);
      }
      y[i] = loads.get(i).y();
      bow[i] = x * x;
      third[i] = x * x * x;
    }
    RealVector weights = weights(columns);
    double ahead = loads.get(load).y() - weights.dotProduct(new ArrayRealVector(y));
    double bent = BEND * mostPerV * scale * (1 - weights.dotProduct(new ArrayRealVector(bow)));
    double more =
        BEND * BEND * mostPerV * scale * (1 - weights.dotProduct(new ArrayRealVector(third)));
    double noise = loads.get(load).u();
    for (int i = 0; i < first; i++) {
      noise = Math.hypot(noise, weights.getEntry(i) * loads.get(i).u());
    }
    return ahead < -(SURE * Math.hypot(noise, Math.hypot(bent, more)) + LITTLE);
  }

  /** Weight of each of the first loads in the prediction at x = 1. */
  private static RealVector weights(double[][] columns) {
    Array2DRowRealMatrix a = new Array2DRowRealMatrix(columns, false);
    double[] ones = new double[columns[0].length];
    Arrays.fill(ones, 1);
    try {
      RealVector inner =
          new QRDecomposition(a.transpose().multiply(a))
              .getSolver()
              .solve(new ArrayRealVector(ones));
      return a.operate(inner);
    } catch (SingularMatrixException e) {
      throw new IllegalStateException("loads of one visit do not differ in voltage", e);
    }
  }
}
