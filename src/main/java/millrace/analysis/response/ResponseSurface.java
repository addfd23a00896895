// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.EigenDecomposition;

/**
 * The weighted mean over the possible scatters between visits, as one linear form in the features
 * of a condition, with its covariance (methods.md 11.2: value the weighted mean, u^2 the weighted
 * mean of u^2 plus the weighted variance of the values). Immutable and thread-safe.
 */
final class ResponseSurface {
  /** A scatter below this weight changes no digit. */
  private static final double LEAST_WEIGHT = 1e-8;

  private static final double ARITHMETIC = 1e-10;
  private static final String MISFIT = "form does not fit";

  /** Beyond this many u the model does not explain a point. */
  private static final double SURE = 5;

  /** A deviation below this is no misfit, a number. */
  private static final double LITTLE = 1e-8;

  private double misfit;
  private String worstPoint = "";

  private final RangeLeastSquaresProblem problem;
  private final ResponseTerms terms;
  private final List<FitAtVisitScatter> fits = new ArrayList<>();
  private final double[] weights;
  private final List<double[][]> covariances = new ArrayList<>();
  private final double[] mean;
  private final double[][] covariance;
  private final double[][] assumed;
  private final double[][] perPoint;
  private final List<Estimate> extras = new ArrayList<>();
  private final List<double[]> perExtra = new ArrayList<>();

  /**
   * Makes the surface.
   *
   * @param problem of the range
   * @param all its fits, one per scatter
   * @param likely the weights of the scatters, which sum to 1
   * @param scatterName name of the scatter between visits in a budget
   */
  ResponseSurface(
      RangeLeastSquaresProblem problem,
      List<FitAtVisitScatter> all,
      double[] likely,
      String scatterName) {
    this.problem = problem;
    this.terms = problem.priors().terms();
    List<Double> kept = new ArrayList<>();
    for (int s = 0; s < all.size(); s++) {
      if (likely[s] > LEAST_WEIGHT) {
        fits.add(all.get(s));
        kept.add(likely[s]);
      }
    }
    double sum = kept.stream().mapToDouble(Double::doubleValue).sum();
    this.weights = kept.stream().mapToDouble(w -> w / sum).toArray();
    int dim = terms.fixed().size() + fits.size() * (terms.doubling().size() + 1);
    this.mean = new double[dim];
    this.covariance = new double[dim][dim];
    this.assumed = new double[dim][dim];
    this.perPoint = new double[dim][problem.measured().points().size()];
    collect(scatterName);
  }

  /** Index of a fit's coefficient among the features. */
  private int place(int fit, int coefficient) {
    int fixed = terms.fixed().size();
    return coefficient < fixed
        ? coefficient
        : fixed + fit * (terms.doubling().size() + 1) + coefficient - fixed;
  }

  private void collect(String scatterName) {
    int n = problem.measured().points().size();
    int visits = problem.measured().visits().size();
    int rows = problem.priors().rows().size() + 1;
    double[][] perVisit = new double[mean.length][visits];
    double[][] perRow = new double[mean.length][rows];
    boolean[] mere = mere();
    double[][] solutions = new double[fits.size()][];
    for (int f = 0; f < fits.size(); f++) {
      FitAtVisitScatter fit = fits.get(f);
      double[][] inverse = fit.solved().inverse();
      double[][] w = fit.weights(inverse);
      solutions[f] = fit.solved().solution();
      double[][] c = FitAtVisitScatter.covariance(inverse);
      covariances.add(c);
      for (int i = 0; i < w.length; i++) {
        int at = place(f, i);
        mean[at] += weights[f] * solutions[f][i];
        for (int p = 0; p < n; p++) {
          perPoint[at][p] += weights[f] * w[i][p];
        }
        for (int k = 0; k < rows; k++) {
          perRow[at][k] += weights[f] * w[i][n + k];
        }
        for (int v = 0; v < visits; v++) {
          perVisit[at][v] += weights[f] * fit.s() * sum(w[i], v);
        }
        for (int j = 0; j < w.length; j++) {
          int beside = place(f, j);
          covariance[at][beside] += weights[f] * c[i][j];
          assumed[at][beside] += weights[f] * assumedShare(w[i], w[j], n, mere);
        }
      }
    }
    double[][] between = between(solutions);
    rowSources(perRow);
    visitSources(perVisit, scatterName);
    betweenSources(between);
    sizeSources();
    misfit();
  }

  private double sum(double[] w, int visit) {
    double sum = 0;
    for (int i : problem.measured().visits().get(visit).members()) {
      sum += w[i];
    }
    return sum;
  }

  /** Which prior rows are merely assumed. */
  private boolean[] mere() {
    List<CoefficientPrior> rows = problem.priors().rows();
    boolean[] mere = new boolean[rows.size() + 1];
    for (int k = 0; k < rows.size(); k++) {
      mere[k] = rows.get(k).assumed();
    }
    mere[rows.size()] = problem.priors().doublingFrom().isEmpty();
    return mere;
  }

  /** Covariance of two coefficients from assumed rows. */
  private static double assumedShare(double[] a, double[] b, int n, boolean[] mere) {
    double sum = 0;
    for (int k = 0; k < mere.length; k++) {
      sum += mere[k] ? a[n + k] * b[n + k] : 0;
    }
    return sum;
  }

  /** Deviations of the fits' values from their mean, one column per fit; adds their covariance. */
  private double[][] between(double[][] solutions) {
    double[][] between = new double[fits.size()][mean.length];
    for (int f = 0; f < fits.size(); f++) {
      double root = Math.sqrt(weights[f]);
      for (int q = 0; q < mean.length; q++) {
        between[f][q] = -root * mean[q];
      }
      for (int i = 0; i < solutions[f].length; i++) {
        between[f][place(f, i)] += root * solutions[f][i];
      }
      for (int p = 0; p < mean.length; p++) {
        for (int q = 0; q < mean.length; q++) {
          covariance[p][q] += between[f][p] * between[f][q];
        }
      }
    }
    return between;
  }

  private void rowSources(double[][] perRow) {
    List<CoefficientPrior> rows = new ArrayList<>(problem.priors().rows());
    rows.add(problem.priors().doublingRow(fits.get(0).doublingK()));
    for (int k = 0; k < rows.size(); k++) {
      CoefficientPrior row = rows.get(k);
      String group =
          row.from().map(BorrowedCoefficients::inWords).orElse(BorrowedCoefficients.ASSUMPTION);
      extra(
          ErrorSource.normal(row.name(), group, range(), row.sd(), row.unit()), column(perRow, k));
    }
  }

  private String range() {
    return problem.measured().data().range();
  }

  private static double[] column(double[][] of, int k) {
    double[] column = new double[of.length];
    for (int i = 0; i < column.length; i++) {
      column[i] = of[i][k];
    }
    return column;
  }

  /** Changes of the features' coefficients per standard deviation of the source. */
  private void extra(ErrorSource source, double[] moves) {
    if (source.value() > 0) {
      extras.add(Estimate.exact(0).with(source, 1 / source.value()));
      perExtra.add(moves);
    }
  }

  private void visitSources(double[][] perVisit, String name) {
    double square = 0;
    for (int f = 0; f < fits.size(); f++) {
      square += weights[f] * fits.get(f).s() * fits.get(f).s();
    }
    for (int v = 0; v < problem.measured().visits().size(); v++) {
      String instance = range() + " visit " + problem.measured().visits().get(v).number();
      ErrorSource source =
          ErrorSource.normal(
              name, ErrorSource.TEMPERATURE_STEP, instance, Math.sqrt(square) * 1e6, "ppm");
      extra(source, column(perVisit, v));
    }
  }

  private void betweenSources(double[][] between) {
    for (int f = 0; fits.size() > 1 && f < fits.size(); f++) {
      ErrorSource source =
          ErrorSource.normal(SIZE, ErrorSource.RUN, "s " + fits.get(f).s() * 1e6 + " ppm", 1, "1");
      extra(source, between[f]);
    }
  }

  private static final String SIZE = "how much visits scatter";

  /**
   * The part of the weighted mean of u^2 beyond the errors of the mean value: separate sources,
   * since each fit weights the points differently.
   */
  private void sizeSources() {
    double[][] rest = remainder();
    int dim = rest.length;
    double[] scale = new double[dim];
    for (int i = 0; i < dim; i++) {
      scale[i] = covariance[i][i] > 0 ? Math.sqrt(covariance[i][i]) : 1;
    }
    for (int i = 0; i < dim; i++) {
      for (int j = 0; j < dim; j++) {
        rest[i][j] /= scale[i] * scale[j];
      }
    }
    if (fits.size() < 2) {
      return;
    }
    EigenDecomposition eigen = new EigenDecomposition(new Array2DRowRealMatrix(rest, false));
    for (int k = 0; k < dim; k++) {
      double lambda = eigen.getRealEigenvalue(k);
      if (lambda > ARITHMETIC) {
        double[] moves = new double[dim];
        for (int i = 0; i < dim; i++) {
          moves[i] = Math.sqrt(lambda) * eigen.getEigenvector(k).getEntry(i) * scale[i];
        }
        extra(ErrorSource.normal(SIZE, ErrorSource.RUN, range() + " form " + k, 1, "1"), moves);
      }
    }
  }

  /**
   * If points deviate from the model by more than all known errors explain, the model does not fit
   * this unit: the largest deviation is an additional error at all conditions.
   */
  private void misfit() {
    ResponseFitPoints m = problem.measured();
    double scatter = 0;
    for (int f = 0; f < fits.size(); f++) {
      scatter += weights[f] * fits.get(f).s() * fits.get(f).s();
    }
    double worst = 0;
    for (int i = 0; i < m.points().size(); i++) {
      double u = problem.errors().y().get(i).pointUncertainty();
      double off = Math.abs(m.y(i) - value(features(m.places().get(i))));
      if (off > SURE * Math.hypot(u, Math.sqrt(scatter)) + LITTLE && off > Math.abs(worst)) {
        worst = off;
        worstPoint = m.points().get(i).key();
      }
    }
    if (worst > 0) {
      double[] moves = new double[mean.length];
      moves[0] = worst;
      extra(ErrorSource.normal(MISFIT, ErrorSource.RUN, range(), worst * 1e6, "ppm"), moves);
      covariance[0][0] += worst * worst;
    }
    misfit = worst;
  }

  /** The misfit of the model in words; empty if it fits. */
  Optional<String> misfitNote() {
    return misfit > 0
        ? Optional.of(
            "the form in Methods of Millrace 11.1 does not fit this range: %s lies %s ppm from it, which U carries everywhere"
                .formatted(worstPoint, ResponseValidityDomain.number(misfit * 1e6)))
        : Optional.empty();
  }

  /** The covariance less that of the sources so far. */
  private double[][] remainder() {
    int dim = mean.length;
    double[][] rest = new double[dim][dim];
    double[][] c = problem.errors().covariance();
    double[][] moved = new double[dim][c.length];
    for (int i = 0; i < dim; i++) {
      for (int p = 0; p < c.length; p++) {
        double w = perPoint[i][p];
        for (int r = 0; w != 0 && r < c.length; r++) {
          moved[i][r] += w * c[p][r];
        }
      }
    }
    for (int i = 0; i < dim; i++) {
      for (int j = 0; j <= i; j++) {
        double sum = covariance[i][j];
        for (int p = 0; p < c.length; p++) {
          sum -= moved[i][p] * perPoint[j][p];
        }
        for (double[] extra : perExtra) {
          sum -= extra[i] * extra[j];
        }
        rest[i][j] = sum;
        rest[j][i] = sum;
      }
    }
    return rest;
  }

  /** The features of a condition. */
  double[] features(ResponseTerms.Place at) {
    double[] all = new double[mean.length];
    terms.fixed(at, all);
    for (int f = 0; f < fits.size(); f++) {
      fits.get(f).doubling(terms, at, all, place(f, terms.fixed().size()));
    }
    return all;
  }

  /** y at a condition, a number. */
  double value(double[] features) {
    double sum = 0;
    for (int i = 0; i < features.length; i++) {
      sum += features[i] * mean[i];
    }
    return sum;
  }

  /** u^2 of y. */
  double variance(double[] features) {
    return Math.max(0, form(covariance, features));
  }

  /** The share of u^2 from assumed rows, a ratio. */
  double assumedShare(double[] features) {
    double all = variance(features);
    return all > 0 ? form(assumed, features) / all : 0;
  }

  private static double form(double[][] m, double[] x) {
    double sum = 0;
    for (int i = 0; i < x.length; i++) {
      double[] beside = m[i];
      double row = 0.5 * beside[i] * x[i];
      for (int j = 0; j < i; j++) {
        row += beside[j] * x[j];
      }
      sum += 2 * row * x[i];
    }
    return sum;
  }

  /** y with each error by name. */
  Estimate estimate(double[] features) {
    int n = problem.measured().points().size();
    double[] w = new double[n + extras.size()];
    for (int i = 0; i < features.length; i++) {
      for (int p = 0; p < n; p++) {
        w[p] += features[i] * perPoint[i][p];
      }
      for (int k = 0; k < perExtra.size(); k++) {
        w[n + k] += features[i] * perExtra.get(k)[i];
      }
    }
    List<Estimate> all = new ArrayList<>(problem.errors().y());
    all.addAll(extras);
    return Estimate.combine(0, w, all).errorsOnly().plus(value(features));
  }

  /**
   * The coefficients that another run may take (methods.md 11.6), for one D common to all scatters.
   */
  ResponseCoefficientSet coefficients(ResponseValidityDomain domain) {
    int p = terms.count();
    double[] values = new double[p];
    double[][] all = new double[p][p];
    double[][] solutions = new double[fits.size()][];
    for (int f = 0; f < fits.size(); f++) {
      solutions[f] = fits.get(f).solved().solution();
      solutions[f][p - 1] += fits.get(f).doublingK();
      double[][] c = covariances.get(f);
      for (int i = 0; i < p; i++) {
        values[i] += weights[f] * solutions[f][i];
        for (int j = 0; j < p; j++) {
          all[i][j] += weights[f] * c[i][j];
        }
      }
    }
    for (int f = 0; f < fits.size(); f++) {
      for (int i = 0; i < p; i++) {
        for (int j = 0; j < p; j++) {
          all[i][j] += weights[f] * (solutions[f][i] - values[i]) * (solutions[f][j] - values[j]);
        }
      }
    }
    return new ResponseCoefficientSet(terms.all(), values, all, terms.scaleV(), domain);
  }
}
