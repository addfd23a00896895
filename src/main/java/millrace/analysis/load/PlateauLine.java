package millrace.analysis.load;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import millrace.analysis.regression.EstimateFit;
import millrace.analysis.uncertainty.Estimate;

/**
 * The plateau line I = I_0 - G V + D (t - t_mean): weighted least squares, weights from the
 * point-wise uncertainties, covariance unscaled and widened by the Birge ratio where the scatter
 * exceeds its 95 % bound; a time term wherever the sweep allows it (measurement.md 3.1; JCGM
 * 100:2008, H.3). An error of V enters as G times itself (York et al., Am. J. Phys. 72 (2004) 367,
 * to first order in G).
 */
final class PlateauLine {
  /** Beyond this correlation of voltage and time a drift cannot be told from a slope. */
  private static final double MOST_CORRELATION = 0.9;

  private static final int LEAST_FOR_TIME_TERM = 5;

  private final EstimateFit fit;
  private final boolean timeTerm;
  private final Estimate i0;
  private final Estimate g;

  private PlateauLine(EstimateFit fit, boolean timeTerm) {
    this.fit = fit;
    this.timeTerm = timeTerm;
    this.i0 = fit.coefficient(0);
    this.g = fit.coefficient(1);
  }

  /**
   * Fits the points, of which at least two differ in voltage.
   *
   * @throws IllegalArgumentException if no two points differ in voltage
   */
  static PlateauLine of(List<LoadPoint> points) {
    int n = points.size();
    double[] ones = new double[n];
    double[] minusV = new double[n];
    double[] t = new double[n];
    Arrays.fill(ones, 1);
    double meanT = points.stream().mapToDouble(LoadPoint::timeS).sum() / n;
    List<String> keys = new ArrayList<>();
    for (int i = 0; i < n; i++) {
      minusV[i] = -points.get(i).voltageV().value();
      t[i] = points.get(i).timeS() - meanT;
      keys.add(points.get(i).key());
    }
    boolean timeTerm = n >= LEAST_FOR_TIME_TERM && independent(minusV, t);
    double[][] columns =
        timeTerm ? new double[][] {ones, minusV, t} : new double[][] {ones, minusV};
    List<Estimate> currents = points.stream().map(LoadPoint::currentA).toList();
    double slope = EstimateFit.of(columns, currents, keys, "A").value(1);
    return new PlateauLine(EstimateFit.of(columns, effective(points, slope), keys, "A"), timeTerm);
  }

  private static List<Estimate> effective(List<LoadPoint> points, double slope) {
    List<Estimate> errors = new ArrayList<>();
    for (LoadPoint p : points) {
      errors.add(p.currentA().plus(p.voltageV().errorsOnly().times(slope)));
    }
    return errors;
  }

  private static boolean independent(double[] a, double[] b) {
    double meanA = Arrays.stream(a).sum() / a.length;
    double meanB = Arrays.stream(b).sum() / b.length;
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

  double birge() {
    return fit.birge();
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
