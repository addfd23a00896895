// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.regression;

import java.util.Arrays;
import java.util.List;
import org.apache.commons.math3.exception.MathIllegalArgumentException;
import org.apache.commons.math3.exception.MathIllegalStateException;
import org.apache.commons.math3.fitting.leastsquares.LeastSquaresBuilder;
import org.apache.commons.math3.fitting.leastsquares.LeastSquaresOptimizer.Optimum;
import org.apache.commons.math3.fitting.leastsquares.LeastSquaresProblem;
import org.apache.commons.math3.fitting.leastsquares.LevenbergMarquardtOptimizer;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.util.Pair;

/**
 * Nonlinear least squares by the Levenberg-Marquardt method of Commons Math (More, Lecture Notes in
 * Mathematics 630 (1978) 105), then Gauss-Newton steps through a scaled QR to the last digits.
 * Where the model gives no derivatives they are central differences with one Richardson step. A fit
 * that did not come to rest, or whose parameters the data do not determine, is a reason and never a
 * number: at the end the residuals must be orthogonal to the derivatives (Bates and Watts,
 * Technometrics 23 (1981) 179, from memory); methods.md 3.4, 6.1.
 */
public final class NonlinearFit {
  private static final double ORTHOGONAL = 1e-6;
  private static final double DIFFERENCE = 1e-3;
  private static final double FAR = 1e150;
  private static final int POLISHING = 200;
  private static final double AT_REST = 1e-13;

  private NonlinearFit() {}

  /** A model with its derivatives. */
  @FunctionalInterface
  public interface Model {
    /**
     * The model's value.
     *
     * @param x where
     * @param parameters its parameters
     * @return y
     */
    double value(double x, double[] parameters);

    /**
     * Derivatives by each parameter: central differences with one Richardson step, whose error is
     * of the fourth power of the step.
     *
     * @param x where
     * @param parameters its parameters
     * @return one per parameter
     */
    default double[] gradient(double x, double[] parameters) {
      double[] gradient = new double[parameters.length];
      for (int j = 0; j < gradient.length; j++) {
        double size = parameters[j] == 0 ? 1 : Math.abs(parameters[j]);
        double h = Math.scalb(1.0, Math.getExponent(DIFFERENCE * size));
        gradient[j] = (4 * slope(x, parameters, j, h / 2) - slope(x, parameters, j, h)) / 3;
      }
      return gradient;
    }

    private double slope(double x, double[] parameters, int j, double h) {
      double[] moved = parameters.clone();
      moved[j] = parameters[j] + h;
      double up = value(x, moved);
      moved[j] = parameters[j] - h;
      return (up - value(x, moved)) / (2 * h);
    }
  }

  /** What a fit came to. */
  public sealed interface Finding permits Fitted, Unfitted {}

  /**
   * A fit that came to rest.
   *
   * @param parameters the estimates
   * @param uncertainties their standard uncertainties from the scatter of the residuals; all 0
   *     without degrees of freedom
   * @param chiSquared sum of squared residuals over u
   * @param degreesOfFreedom observations less parameters
   * @param evaluations of the model's values that were used
   */
  public record Fitted(
      List<Double> parameters,
      List<Double> uncertainties,
      double chiSquared,
      int degreesOfFreedom,
      int evaluations)
      implements Finding {}

  /**
   * A fit that did not.
   *
   * @param reason in words
   */
  public record Unfitted(String reason) implements Finding {}

  /**
   * The observations; arrays are read, never kept.
   *
   * @param x where
   * @param y as many observations
   * @param u the standard uncertainty of each, above 0
   */
  @SuppressWarnings("ArrayRecordComponent") // read once inside one call, never compared or kept
  public record Data(double[] x, double[] y, double[] u) {
    /** Checks that there are as many of each. */
    public Data {
      if (y.length != x.length || u.length != x.length) {
        throw new IllegalArgumentException(
            "%s x, %s y and %s uncertainties; expected as many of each"
                .formatted(x.length, y.length, u.length));
      }
    }

    private double[] residuals(Model model, double... parameters) {
      double[] r = new double[x.length];
      Arrays.setAll(r, i -> (y[i] - model.value(x[i], parameters)) / u[i]);
      return r;
    }

    private double[][] jacobian(Model model, double... parameters) {
      double[][] rows = new double[x.length][];
      Arrays.setAll(rows, i -> model.gradient(x[i], parameters));
      for (int i = 0; i < rows.length; i++) {
        for (int j = 0; j < rows[i].length; j++) {
          rows[i][j] = bounded(rows[i][j] / u[i]);
        }
      }
      return rows;
    }
  }

  private static double bounded(double value) {
    return Double.isFinite(value) ? Math.max(-FAR, Math.min(FAR, value)) : FAR;
  }

  /**
   * Fits (methods.md 6.1).
   *
   * @param data at least as many observations as parameters
   * @param model what is fitted
   * @param start where the search begins, finite
   * @param most ceiling of evaluations, 1 or more
   * @return the fit, or why there is none
   */
  public static Finding of(Data data, Model model, double[] start, int most) {
    if (data.x().length < start.length) {
      return new Unfitted(
          "%s observations for %s parameters".formatted(data.x().length, start.length));
    }
    try {
      Optimum optimum =
          new LevenbergMarquardtOptimizer().optimize(problem(data, model, start, most));
      double[] p = polished(data, model, optimum.getPoint().toArray());
      return finished(data, model, p, optimum.getEvaluations());
    } catch (MathIllegalStateException | MathIllegalArgumentException e) {
      return new Unfitted("the search did not come to rest within " + most + " evaluations");
    }
  }

  private static LeastSquaresProblem problem(Data data, Model model, double[] start, int most) {
    int n = data.x().length;
    return new LeastSquaresBuilder()
        .start(start)
        .target(new double[n])
        .model(
            p -> {
              double[] r = data.residuals(model, p.toArray());
              double[] bounded = Arrays.stream(r).map(v -> -bounded(v)).toArray();
              double[][] jacobian = data.jacobian(model, p.toArray());
              return new Pair<>(
                  new ArrayRealVector(bounded, false), new Array2DRowRealMatrix(jacobian, false));
            })
        .maxEvaluations(most)
        .maxIterations(most)
        .build();
  }

  /** Gauss-Newton steps as long as they lessen the sum of squares. */
  private static double[] polished(Data data, Model model, double[] found) {
    double[] best = found;
    double least = squares(data.residuals(model, best));
    for (int k = 0; k < POLISHING; k++) {
      double[] step;
      try {
        step = step(data, model, best);
      } catch (IllegalArgumentException e) {
        return best; // dependent derivatives: what is wrong is said at the end
      }
      double[] from = best;
      double[] next = new double[step.length];
      Arrays.setAll(next, j -> from[j] + step[j]);
      double chi = squares(data.residuals(model, next));
      if (!(chi <= least * (1 + 1e-9))) {
        return best;
      }
      best = next;
      least = Math.min(least, chi);
      if (moved(step, next) < AT_REST) {
        return best;
      }
    }
    return best;
  }

  /** The largest step relative to its parameter. */
  private static double moved(double[] step, double[] parameters) {
    double most = 0;
    for (int j = 0; j < step.length; j++) {
      most =
          Math.max(most, Math.abs(step[j]) / Math.max(Double.MIN_NORMAL, Math.abs(parameters[j])));
    }
    return most;
  }

  private static double squares(double... residuals) {
    double sum = 0;
    for (double r : residuals) {
      sum += r * r;
    }
    return sum;
  }

  private static LinearFit linear(Data data, Model model, double... parameters) {
    double[][] rows = data.jacobian(model, parameters);
    double[][] columns = new double[parameters.length][rows.length];
    for (int j = 0; j < columns.length; j++) {
      for (int i = 0; i < rows.length; i++) {
        columns[j][i] = rows[i][j];
      }
    }
    double[] ones = new double[rows.length];
    Arrays.fill(ones, 1);
    return LinearFit.of(columns, data.residuals(model, parameters), ones);
  }

  private static double[] step(Data data, Model model, double... parameters) {
    LinearFit fit = linear(data, model, parameters);
    double[] step = new double[parameters.length];
    Arrays.setAll(step, fit::coefficient);
    return step;
  }

  private static Finding finished(Data data, Model model, double[] p, int evaluations) {
    double[] residuals = data.residuals(model, p);
    double chi = squares(residuals);
    LinearFit fit;
    try {
      fit = linear(data, model, p);
    } catch (IllegalArgumentException e) {
      return new Unfitted("the data do not determine all parameters");
    }
    double explained = Math.max(0, chi - fit.chiSquared());
    int nu = residuals.length - p.length;
    double rest = nu > 0 ? fit.chiSquared() / nu : 0;
    if (!Double.isFinite(chi) || (nu > 0 && explained / p.length > ORTHOGONAL * rest)) {
      return new Unfitted("the search ended away from the least sum of squares");
    }
    Double[] u = new Double[p.length];
    Arrays.setAll(u, j -> Math.sqrt(rest * squares(fit.estimator(j))));
    return new Fitted(Arrays.stream(p).boxed().toList(), List.of(u), chi, nu, evaluations);
  }
}
