package millrace.analysis.temperature;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import millrace.analysis.fit.LinearFit;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.Source;

/**
 * How the current of one range moves with temperature (measurement.md 5.1 to 5.5, 5.9). Relative to
 * I_ref, so that errors which all temperatures share cancel (2.3). Immutable and thread-safe.
 */
public final class TemperatureStudy {
  /** How near to T_ref a stay must be to count as a visit, K. */
  public static final double NEAR_K = 1.5;

  private static final double PPM = 1e6;

  private final List<TemperaturePoint> points;
  private final double referenceDegC;
  private final Estimate referenceA;
  private final int visits;
  private final Optional<Line> slope;

  /**
   * A fitted slope.
   *
   * @param ppmPerK the slope, ppm/K
   * @param interceptPpm at T_ref, ppm
   * @param quadraticPpmPerK2 the quadratic coefficient; exact 0 for a straight line
   * @param timeTerm true if a drift was fitted beside
   * @param birge by which factor point-wise errors were widened
   */
  public record Line(
      Estimate ppmPerK,
      Estimate interceptPpm,
      Estimate quadraticPpmPerK2,
      boolean timeTerm,
      double birge) {}

  private TemperatureStudy(List<TemperaturePoint> points, double referenceDegC) {
    this.points = points;
    this.referenceDegC = referenceDegC;
    List<TemperaturePoint> atReference = points.stream().filter(this::near).toList();
    this.visits = atReference.size();
    this.referenceA = visits > 0 ? mean(atReference) : fitted();
    this.slope = distinct(points) >= 2 ? Optional.of(fit(false)) : Optional.empty();
  }

  /**
   * Studies one range.
   *
   * @param points one per stay, in any order; not empty
   * @param referenceDegC T_ref, degC
   * @return the study
   */
  public static TemperatureStudy of(List<TemperaturePoint> points, double referenceDegC) {
    if (points.isEmpty()) {
      throw new IllegalArgumentException("a temperature study of no points");
    }
    List<TemperaturePoint> sorted = new ArrayList<>(points);
    sorted.sort(Comparator.comparingDouble(TemperaturePoint::timeS));
    return new TemperatureStudy(List.copyOf(sorted), referenceDegC);
  }

  private boolean near(TemperaturePoint p) {
    return Math.abs(p.temperatureDegC().value() - referenceDegC) <= NEAR_K;
  }

  private static Estimate mean(List<TemperaturePoint> points) {
    double[] weights = new double[points.size()];
    java.util.Arrays.fill(weights, 1.0 / points.size());
    return Estimate.combine(0, weights, points.stream().map(TemperaturePoint::currentA).toList());
  }

  /** The current at T_ref by a straight line, where T_ref was not visited. */
  private Estimate fitted() {
    if (distinct(points) < 2) {
      return mean(points);
    }
    int n = points.size();
    double[] ones = new double[n];
    double[] dT = new double[n];
    double[] y = new double[n];
    double[] u = new double[n];
    for (int i = 0; i < n; i++) {
      ones[i] = 1;
      dT[i] = points.get(i).temperatureDegC().value() - referenceDegC;
      y[i] = points.get(i).currentA().value();
      u[i] = weight(points.get(i).currentA());
    }
    LinearFit fit = LinearFit.of(new double[][] {ones, dT}, y, u);
    return Estimate.combine(
        0, fit.estimator(0), points.stream().map(TemperaturePoint::currentA).toList());
  }

  private static double weight(Estimate e) {
    double u = e.pointUncertainty();
    return u > 0 ? u : 1;
  }

  private static int distinct(List<TemperaturePoint> points) {
    return (int)
        points.stream().map(p -> Math.round(p.temperatureDegC().value())).distinct().count();
  }

  /** I/I_ref - 1, ppm, of one stay. */
  Estimate ppm(TemperaturePoint p) {
    return p.currentA().over(referenceA).minus(Estimate.exact(1)).times(PPM);
  }

  /**
   * Straight or quadratic fit of I/I_ref - 1 over T - T_ref.
   *
   * @param quadratic true to fit the quadratic term too
   */
  private Line fit(boolean quadratic) {
    int n = points.size();
    List<double[]> columns = new ArrayList<>();
    double[] ones = new double[n];
    double[] dT = new double[n];
    double[] square = new double[n];
    double[] t = new double[n];
    double meanT = points.stream().mapToDouble(TemperaturePoint::timeS).average().orElse(0);
    for (int i = 0; i < n; i++) {
      ones[i] = 1;
      dT[i] = points.get(i).temperatureDegC().value() - referenceDegC;
      square[i] = dT[i] * dT[i];
      t[i] = points.get(i).timeS() - meanT;
    }
    columns.add(ones);
    columns.add(dT);
    if (quadratic) {
      columns.add(square);
    }
    boolean timeTerm = visits >= 2 && n >= columns.size() + 2;
    if (timeTerm) {
      columns.add(t);
    }
    return line(columns.toArray(double[][]::new), quadratic, timeTerm);
  }

  private Line line(double[][] columns, boolean quadratic, boolean timeTerm) {
    List<Estimate> relative = points.stream().map(this::ppm).toList();
    double[] y = relative.stream().mapToDouble(Estimate::value).toArray();
    double[] u =
        points.stream()
            .mapToDouble(p -> weight(p.currentA()) / Math.abs(referenceA.value()) * PPM)
            .toArray();
    LinearFit first = LinearFit.of(columns, y, u);
    double slope = first.coefficient(1);
    boolean known = points.stream().anyMatch(p -> p.currentA().pointUncertainty() > 0);
    double birge = known ? first.birgeFactor() : 1;
    List<Estimate> errors = new ArrayList<>();
    for (int i = 0; i < relative.size(); i++) {
      Estimate dT = points.get(i).temperatureDegC();
      Estimate moved = dT.minus(Estimate.exact(dT.value())).times(-slope);
      errors.add(relative.get(i).plus(moved).widened(birge, s -> s.group().equals(Source.POINT)));
    }
    Estimate none = Estimate.exact(0);
    return new Line(
        Estimate.combine(0, first.estimator(1), errors),
        Estimate.combine(0, first.estimator(0), errors),
        quadratic ? Estimate.combine(0, first.estimator(2), errors) : none,
        timeTerm,
        birge);
  }

  /**
   * The quadratic fit.
   *
   * @return empty with fewer than four stays or three temperatures
   */
  Optional<Line> quadratic() {
    boolean enough = points.size() >= 4 && distinct(points) >= 3;
    return enough ? Optional.of(fit(true)) : Optional.empty();
  }

  /**
   * The straight fit.
   *
   * @return empty if all stays are at one temperature
   */
  public Optional<Line> slope() {
    return slope;
  }

  /**
   * The current that ppm are counted of.
   *
   * @return I_ref, A
   */
  public Estimate referenceA() {
    return referenceA;
  }

  /**
   * How often T_ref was visited.
   *
   * @return 0 if I_ref is fitted
   */
  public int visits() {
    return visits;
  }

  /**
   * T_ref.
   *
   * @return degC
   */
  public double referenceDegC() {
    return referenceDegC;
  }

  /**
   * The stays.
   *
   * @return in the order of time
   */
  public List<TemperaturePoint> points() {
    return points;
  }
}
