// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import millrace.analysis.regression.LinearFit;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.SharedNoise;

/**
 * How the current of one range moves with temperature (methods.md 5.1 to 5.6, 5.9). Relative to
 * I_ref, so that errors which all temperatures share cancel (2.3). Immutable and thread-safe.
 */
public final class TemperatureStudy {
  /** How near to a temperature a stay must be to count as a visit to it, K. */
  public static final double NEAR_K = 1.5;

  static final double PPM = 1e6;

  private final List<TemperaturePoint> points;
  private final double referenceDegC;
  private final Estimate referenceA;
  private final List<TemperaturePoint> visits;
  private final Optional<Line> slope;
  private final Optional<Line> quadratic;

  /**
   * A fit of I/I_ref - 1 over T - T_ref.
   *
   * @param ppmPerK the slope, at T_ref where there is a quadratic term, ppm/K
   * @param interceptPpm at T_ref, ppm
   * @param quadraticPpmPerK2 the quadratic coefficient, ppm/K2; exact 0 for a straight line
   * @param driftPpmPerS the drift that was fitted beside, ppm/s; empty where none was
   * @param residualsPpm stay minus fit, in the order of time, ppm
   */
  public record Line(
      Estimate ppmPerK,
      Estimate interceptPpm,
      Estimate quadraticPpmPerK2,
      Optional<Estimate> driftPpmPerS,
      List<Double> residualsPpm) {

    /** Copies the list. */
    public Line {
      residualsPpm = List.copyOf(residualsPpm);
    }

    /**
     * Tells whether a drift was fitted beside.
     *
     * @return true with a time term
     */
    public boolean timeTerm() {
      return driftPpmPerS.isPresent();
    }

    /** What its coefficients ask of noise that visits share. */
    SharedNoise.Use use() {
      return timeTerm() ? SharedNoise.Use.VISITS_AND_TIME : SharedNoise.Use.VISITS;
    }

    /**
     * The fit at a temperature, at the mean time of the stays.
     *
     * @param aboveReferenceK T - T_ref, K
     * @return I/I_ref - 1, ppm
     */
    public Estimate at(double aboveReferenceK) {
      return Estimate.combine(
          0,
          new double[] {1, aboveReferenceK, aboveReferenceK * aboveReferenceK},
          List.of(interceptPpm, ppmPerK, quadraticPpmPerK2));
    }
  }

  private TemperatureStudy(List<TemperaturePoint> points, double referenceDegC) {
    this.points = points;
    this.referenceDegC = referenceDegC;
    this.visits = points.stream().filter(p -> near(p, referenceDegC)).toList();
    this.referenceA =
        visits.isEmpty()
            ? fitted()
            : Estimate.mean(visits.stream().map(TemperaturePoint::currentA).toList());
    int temperatures = temperatures();
    boolean countable = referenceA.value() != 0;
    this.slope =
        countable && temperatures >= 2 ? Optional.of(VisitSlope.of(this)) : Optional.empty();
    this.quadratic =
        countable && temperatures >= 3 && points.size() >= 4
            ? Optional.of(TemperatureFit.of(this).quadratic())
            : Optional.empty();
  }

  /**
   * Studies one range.
   *
   * @param points one per stay, in any order; not empty; times all equal where none are known, the
   *     order of stays then counts
   * @param referenceDegC T_ref, degC
   * @return the study
   * @throws IllegalArgumentException without points
   */
  public static TemperatureStudy of(List<TemperaturePoint> points, double referenceDegC) {
    if (points.isEmpty()) {
      throw new IllegalArgumentException("a temperature study of no points");
    }
    List<TemperaturePoint> sorted = new ArrayList<>(points);
    sorted.sort(
        Comparator.comparingDouble(TemperaturePoint::timeS)
            .thenComparingInt(TemperaturePoint::stay));
    return new TemperatureStudy(List.copyOf(sorted), referenceDegC);
  }

  static boolean near(TemperaturePoint p, double temperatureDegC) {
    return Math.abs(p.temperatureDegC().value() - temperatureDegC) <= NEAR_K;
  }

  /** The current at T_ref by a straight line, where T_ref was not visited. */
  private Estimate fitted() {
    List<Estimate> currents = points.stream().map(TemperaturePoint::currentA).toList();
    if (temperatures() < 2) {
      return Estimate.mean(currents);
    }
    int n = points.size();
    double[] ones = new double[n];
    double[] above = new double[n];
    double[] y = new double[n];
    for (int i = 0; i < n; i++) {
      ones[i] = 1;
      above[i] = points.get(i).temperatureDegC().value() - referenceDegC;
      y[i] = currents.get(i).value();
    }
    LinearFit fit = LinearFit.of(new double[][] {ones, above}, y, ones);
    return Estimate.combine(0, fit.estimator(0), currents);
  }

  /** How many temperatures there are that are no visits to one another. */
  int temperatures() {
    double[] sorted =
        points.stream().mapToDouble(p -> p.temperatureDegC().value()).sorted().toArray();
    int count = 0;
    double first = Double.NEGATIVE_INFINITY;
    for (double each : sorted) {
      if (each > first + NEAR_K) {
        first = each;
        count++;
      }
    }
    return count;
  }

  /**
   * One stay, relative to I_ref.
   *
   * @param p a stay
   * @return I/I_ref - 1, ppm; what it shares with I_ref cancels
   */
  public Estimate ppm(TemperaturePoint p) {
    return p.currentA().over(referenceA).plus(-1).times(PPM);
  }

  /**
   * The quadratic fit (methods.md 5.4).
   *
   * @return empty with fewer than four stays or three temperatures
   */
  public Optional<Line> quadratic() {
    return quadratic;
  }

  /**
   * The slope over the visits (methods.md 5.2).
   *
   * @return empty if all stays are at one temperature, or I_ref is zero
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
    return visits.size();
  }

  /** The visits to T_ref, in the order of time. */
  List<TemperaturePoint> referenceVisits() {
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

  /** The temperatures of the stays, in the order of time, degC. */
  List<Double> degC() {
    return points.stream().map(p -> p.temperatureDegC().value()).toList();
  }

  /** The currents of the stays, in the order of time, A. */
  List<Double> currentsA() {
    return points.stream().map(p -> p.currentA().value()).toList();
  }

  TemperaturePoint coldest() {
    return points.stream()
        .min(Comparator.comparingDouble(p -> p.temperatureDegC().value()))
        .orElseThrow();
  }

  TemperaturePoint hottest() {
    return points.stream()
        .max(Comparator.comparingDouble(p -> p.temperatureDegC().value()))
        .orElseThrow();
  }

  double spanK() {
    return hottest().temperatureDegC().value() - coldest().temperatureDegC().value();
  }
}
