// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import millrace.analysis.regression.LinearFitOfEstimates;
import millrace.analysis.uncertainty.CoverageFactors;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;

/**
 * The plateau line I = I_0 - G V + D (t - t_mean): weighted least squares, weights from the
 * point-wise uncertainties, covariance unscaled and widened by the Birge ratio where the scatter
 * exceeds its 95 % bound; a time term wherever the sweep allows it (methods.md 3.1; JCGM 100:2008,
 * H.3). An error of V enters multiplied by G (York et al., Am. J. Phys. 72 (2004) 367, to first
 * order in G). Where the plateau is bent, by a quadratic term beside the line, G is its mean slope,
 * with a rectangular uncertainty as wide as the distance of the slopes at its ends.
 */
final class PlateauLine {
  /** Beyond this correlation of voltage and time a drift cannot be separated from a slope. */
  private static final double MOST_CORRELATION = 0.9;

  private static final int LEAST_FOR_TIME_TERM = 5;

  private static final int LEAST_FOR_CURVATURE = 6;

  private static final int LEAST_LOADS_FOR_CURVATURE = 4;

  /** Voltages closer than this share of the plateau belong to one load. */
  private static final double SAME_LOAD = 0.01;

  /** A bend below this share of the current is numerical error. */
  private static final double LEAST_BEND = 1e-9;

  /** With all points this near to the ends of the plateau a bend cannot be determined. */
  private static final double LEAST_BOW = 1e-6;

  /** A bend counts where chance would show it in one of a hundred straight lines. */
  private static final double SURE = 0.99;

  private final LinearFitOfEstimates fit;
  private final boolean timeTerm;
  private final boolean bent;
  private final Estimate i0;
  private final Estimate g;

  private PlateauLine(LinearFitOfEstimates fit, boolean timeTerm, double slopeSpread) {
    this.fit = fit;
    this.timeTerm = timeTerm;
    this.bent = slopeSpread > 0;
    this.i0 = fit.coefficient(0);
    ErrorSource curvature =
        ErrorSource.within(
            "curvature of the plateau", ErrorSource.RUN, "plateau", slopeSpread, "S");
    this.g = fit.coefficient(1).with(curvature, 1);
  }

  /** Points as the rows of a fit. */
  private static final class Rows {
    private final double[][] columns;
    private final List<Estimate> effective;
    private final List<String> keys = new ArrayList<>();
    private final boolean timeTerm;

    /** With the slope by which errors of V enter, where it is known. */
    Rows(List<LoadPoint> points, OptionalDouble known) {
      int n = points.size();
      double[] ones = new double[n];
      double[] minusV = new double[n];
      double[] t = new double[n];
      Arrays.fill(ones, 1);
      double meanT = 0;
      for (LoadPoint p : points) {
        meanT += (p.timeS() - points.get(0).timeS()) / n;
      }
      meanT += points.get(0).timeS();
      for (int i = 0; i < n; i++) {
        minusV[i] = -points.get(i).voltageV().value();
        t[i] = points.get(i).timeS() - meanT;
        keys.add(points.get(i).key());
      }
      this.timeTerm = n >= LEAST_FOR_TIME_TERM && independent(minusV, t);
      this.columns = timeTerm ? new double[][] {ones, minusV, t} : new double[][] {ones, minusV};
      this.effective = effective(points, known.orElseGet(() -> slope(points)));
    }

    private double slope(List<LoadPoint> points) {
      List<Estimate> currents = points.stream().map(LoadPoint::currentA).toList();
      return LinearFitOfEstimates.of(columns, currents, keys, "A").value(1);
    }

    LinearFitOfEstimates fit() {
      return LinearFitOfEstimates.of(columns, effective, keys, "A");
    }
  }

  /**
   * Fits the points, of which at least two differ in voltage.
   *
   * @throws IllegalArgumentException if no two points differ in voltage
   */
  static PlateauLine of(List<LoadPoint> points) {
    Rows rows = new Rows(points, OptionalDouble.empty());
    double spread = slopeSpread(rows.columns, rows.effective, rows.keys);
    return new PlateauLine(rows.fit(), rows.timeTerm, spread);
  }

  /**
   * By how much the slope at either end of the plateau differs from the mean one, S; 0 where a
   * quadratic term is not significant, or below {@link #LEAST_BEND} of the current.
   */
  private static double slopeSpread(
      double[][] columns, List<Estimate> currents, List<String> keys) {
    double[] minusV = columns[1];
    double low = Arrays.stream(minusV).min().orElse(0);
    double span = Arrays.stream(minusV).max().orElse(0) - low;
    if (different(minusV, span) < LEAST_LOADS_FOR_CURVATURE
        || minusV.length < LEAST_FOR_CURVATURE) {
      return 0;
    }
    double[] bow = Arrays.stream(minusV).map(x -> Math.pow((x - low) / span - 0.5, 2)).toArray();
    if (Arrays.stream(bow).map(x -> 0.25 - x).sum() < LEAST_BOW) {
      return 0;
    }
    double[][] more = Arrays.copyOf(columns, columns.length + 1);
    more[columns.length] = bow;
    LinearFitOfEstimates quadratic = LinearFitOfEstimates.of(more, currents, keys, "A");
    Estimate bend = quadratic.coefficient(columns.length);
    OptionalDouble nu =
        quadratic.scaledByResiduals()
            ? OptionalDouble.of(Math.max(1, quadratic.degreesOfFreedom()))
            : OptionalDouble.empty();
    double least =
        Math.max(
            CoverageFactors.factor(SURE, nu) * bend.pointUncertainty(),
            LEAST_BEND * Math.abs(quadratic.value(0)));
    return Math.abs(bend.value()) > least ? Math.abs(bend.value()) / span : 0;
  }

  /** Number of different loads: a repeated one differs in voltage by noise alone. */
  private static long different(double[] voltages, double span) {
    double[] sorted = Arrays.stream(voltages).sorted().toArray();
    return 1
        + IntStream.range(1, sorted.length)
            .filter(i -> sorted[i] - sorted[i - 1] > SAME_LOAD * span)
            .count();
  }

  private static List<Estimate> effective(List<LoadPoint> points, double slope) {
    List<Estimate> errors = new ArrayList<>(points.size());
    for (LoadPoint p : points) {
      errors.add(p.currentA().plus(p.voltageV().errorsOnly().times(slope)));
    }
    return errors;
  }

  private static boolean independent(double[] a, double[] b) {
    double meanA = mean(a);
    double meanB = mean(b);
    double aa = 0;
    double bb = 0;
    double ab = 0;
    for (int i = 0; i < a.length; i++) {
      aa += (a[i] - meanA) * (a[i] - meanA);
      bb += (b[i] - meanB) * (b[i] - meanB);
      ab += (a[i] - meanA) * (b[i] - meanB);
    }
    return aa > 0 && bb > 0 && Math.abs(ab) < MOST_CORRELATION * Math.sqrt(aa * bb);
  }

  private static double mean(double[] values) {
    double sum = 0;
    for (double v : values) {
      sum += v - values[0];
    }
    return values[0] + sum / values.length;
  }

  /** The same for randomly perturbed points, with the errors widened as here. */
  PlateauLine again(List<LoadPoint> moved) {
    Rows rows = new Rows(moved, OptionalDouble.of(fit.value(1)));
    return new PlateauLine(rows.fit().widenedBy(fit.birge()), rows.timeTerm, 0);
  }

  /** Current into a short, A. */
  Estimate i0() {
    return i0;
  }

  /** Output conductance -dI/dV, fixture included, S. */
  Estimate g() {
    return g;
  }

  boolean timeTerm() {
    return timeTerm;
  }

  /** Whether the plateau is no straight line: it scatters beyond its bound, or it is bent. */
  boolean curved() {
    return bent || fit.birge() > 1;
  }

  boolean scaledByResiduals() {
    return fit.scaledByResiduals();
  }

  /** The line at a voltage, A. */
  double at(double voltageV) {
    return fit.value(0) - fit.value(1) * voltageV;
  }

  /** The line at a voltage with its uncertainty, A. */
  Estimate estimateAt(double voltageV) {
    return fit.combination(1, -voltageV);
  }

  /** Residual standard deviation, A; 0 without degrees of freedom. */
  double scatterA() {
    double sum = 0;
    for (double r : fit.residuals()) {
      sum += r * r;
    }
    return fit.degreesOfFreedom() < 1 ? 0 : Math.sqrt(sum / fit.degreesOfFreedom());
  }
}
