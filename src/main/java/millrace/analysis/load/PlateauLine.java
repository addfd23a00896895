package millrace.analysis.load;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import millrace.analysis.fit.LinearFit;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.Source;
import millrace.evidence.Distribution;

/**
 * The plateau line I = I_0 - G V + D (t - t_mean): weighted least squares, weights from the
 * point-wise uncertainties, covariance unscaled and widened by the Birge ratio where the scatter
 * exceeds its 95 % bound; a time term wherever the sweep allows it (measurement.md 3.1; JCGM
 * 100:2008, H.3). An error of V enters as G times itself. Where no uncertainty is known, the
 * scatter of the residuals stands in.
 */
final class PlateauLine {
  /** Beyond this correlation of voltage and time a drift cannot be told from a slope. */
  private static final double MOST_CORRELATION = 0.9;

  private static final int LEAST_FOR_TIME_TERM = 6;

  private final Estimate i0;
  private final Estimate g;
  private final List<Estimate> errors;
  private final LinearFit fit;
  private final boolean timeTerm;
  private final double birge;

  private PlateauLine(List<LoadPoint> points, List<Estimate> errors, Design design) {
    this.fit = design.fit;
    this.timeTerm = design.timeTerm;
    this.birge = fit.birgeFactor();
    this.errors = widened(errors, birge);
    this.i0 = Estimate.combine(0, fit.estimator(0), this.errors);
    this.g = Estimate.combine(0, fit.estimator(1), this.errors);
    if (points.size() != this.errors.size()) {
      throw new IllegalStateException("one error per point");
    }
  }

  /** A fit with what it was made for. */
  private record Design(LinearFit fit, boolean timeTerm) {}

  /** Fits the points, of which at least two differ in voltage. */
  static PlateauLine of(List<LoadPoint> points) {
    double slope = 0;
    List<Estimate> errors = effective(points, slope);
    Design design = fit(points, errors);
    slope = design.fit.coefficient(1);
    errors = effective(points, slope);
    if (errors.stream().allMatch(e -> e.pointUncertainty() == 0)) {
      errors = scattered(points, errors, design.fit);
      return new PlateauLine(points, errors, fit(points, errors));
    }
    return new PlateauLine(points, errors, fit(points, errors));
  }

  private static List<Estimate> effective(List<LoadPoint> points, double slope) {
    List<Estimate> errors = new ArrayList<>();
    for (LoadPoint p : points) {
      Estimate v = p.voltageV();
      errors.add(p.currentA().plus(v.minus(Estimate.exact(v.value())).times(slope)));
    }
    return errors;
  }

  private static List<Estimate> scattered(
      List<LoadPoint> points, List<Estimate> errors, LinearFit fit) {
    int nu = fit.degreesOfFreedom();
    if (nu < 1) {
      return errors;
    }
    double sum = 0;
    for (double r : fit.residuals()) {
      sum += r * r;
    }
    double s = Math.sqrt(sum / nu);
    List<Estimate> with = new ArrayList<>();
    for (int i = 0; i < points.size(); i++) {
      Source scatter =
          new Source(
              "scatter about the line",
              Source.POINT,
              points.get(i).key(),
              Distribution.NORMAL,
              OptionalDouble.of(nu),
              s,
              "A");
      with.add(errors.get(i).with(scatter, 1));
    }
    return with;
  }

  private static Design fit(List<LoadPoint> points, List<Estimate> errors) {
    int n = points.size();
    double[] ones = new double[n];
    double[] minusV = new double[n];
    double[] t = new double[n];
    double[] y = new double[n];
    double[] u = new double[n];
    double meanT = points.stream().mapToDouble(LoadPoint::timeS).average().orElse(0);
    for (int i = 0; i < n; i++) {
      ones[i] = 1;
      minusV[i] = -points.get(i).voltageV().value();
      t[i] = points.get(i).timeS() - meanT;
      y[i] = points.get(i).currentA().value();
      u[i] = errors.get(i).pointUncertainty();
    }
    double least = leastAboveZero(u);
    for (int i = 0; i < n; i++) {
      u[i] = u[i] > 0 ? u[i] : least;
    }
    boolean timeTerm = n >= LEAST_FOR_TIME_TERM && independent(minusV, t);
    double[][] columns =
        timeTerm ? new double[][] {ones, minusV, t} : new double[][] {ones, minusV};
    return new Design(LinearFit.of(columns, y, u), timeTerm);
  }

  private static double leastAboveZero(double[] u) {
    double least = Double.POSITIVE_INFINITY;
    for (double each : u) {
      if (each > 0) {
        least = Math.min(least, each);
      }
    }
    return Double.isInfinite(least) ? 1 : least;
  }

  private static boolean independent(double[] a, double[] b) {
    double meanA = java.util.Arrays.stream(a).average().orElse(0);
    double meanB = java.util.Arrays.stream(b).average().orElse(0);
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

  private static List<Estimate> widened(List<Estimate> errors, double birge) {
    if (birge == 1) {
      return errors;
    }
    return errors.stream().map(e -> e.widened(birge, s -> s.group().equals(Source.POINT))).toList();
  }

  /** Current into a short, A. */
  Estimate i0() {
    return i0;
  }

  /** Output conductance -dI/dV, S. */
  Estimate g() {
    return g;
  }

  boolean timeTerm() {
    return timeTerm;
  }

  double birge() {
    return birge;
  }

  int degreesOfFreedom() {
    return fit.degreesOfFreedom();
  }

  double[] residuals() {
    return fit.residuals();
  }

  /** The line at a voltage, A. */
  double at(double voltageV) {
    return i0.value() - g.value() * voltageV;
  }

  /** The line at a voltage with its uncertainty, A. */
  Estimate estimateAt(double voltageV) {
    return Estimate.combine(0, new double[] {1, -voltageV}, List.of(i0, g));
  }
}
