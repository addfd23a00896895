// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import millrace.analysis.uncertainty.Estimate;

/**
 * The temperature dependence of one range's current (methods.md 5.1 to 5.6, 5.9). Relative to
 * I_ref, so that errors which all temperatures share cancel (2.3). Immutable and thread-safe.
 */
public final class TemperatureStudy {
  private final RelativeTemperatureStays stays;
  private final Optional<TemperatureLine> slope;
  private final Optional<TemperatureLine> quadratic;

  private TemperatureStudy(List<TemperaturePoint> points, double referenceDegC) {
    this.stays = new RelativeTemperatureStays(points, referenceDegC);
    int temperatures = stays.temperatures();
    boolean countable = stays.referenceA().value() != 0;
    this.slope =
        countable && temperatures >= 2
            ? Optional.of(VisitTemperatureSlope.of(stays))
            : Optional.empty();
    this.quadratic =
        countable && temperatures >= 3 && points.size() >= 4
            ? Optional.of(TemperatureFit.of(stays).quadratic())
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

  /**
   * One stay, relative to I_ref.
   *
   * @param p a stay
   * @return I/I_ref - 1, ppm; what it shares with I_ref cancels
   */
  public Estimate ppm(TemperaturePoint p) {
    return stays.ppm(p);
  }

  /**
   * The quadratic fit (methods.md 5.4).
   *
   * @return empty with fewer than four stays or three temperatures
   */
  public Optional<TemperatureLine> quadratic() {
    return quadratic;
  }

  /**
   * The slope over the visits (methods.md 5.2).
   *
   * @return empty if all stays are at one temperature, or I_ref is zero
   */
  public Optional<TemperatureLine> slope() {
    return slope;
  }

  /**
   * The current to which ppm refer.
   *
   * @return I_ref, A
   */
  public Estimate referenceA() {
    return stays.referenceA();
  }

  /**
   * How often T_ref was visited.
   *
   * @return 0 if I_ref is fitted
   */
  public int visits() {
    return stays.visits().size();
  }

  /** How many temperatures there are that are no visits to one another. */
  int temperatures() {
    return stays.temperatures();
  }

  /** The visits to T_ref, in the order of time. */
  List<TemperaturePoint> referenceVisits() {
    return stays.visits();
  }

  /**
   * T_ref.
   *
   * @return degC
   */
  public double referenceDegC() {
    return stays.referenceDegC();
  }

  /**
   * The stays.
   *
   * @return in the order of time
   */
  public List<TemperaturePoint> points() {
    return stays.points();
  }

  /** The temperatures of the stays, in the order of time, degC. */
  List<Double> degC() {
    return stays.points().stream().map(p -> p.temperatureDegC().value()).toList();
  }

  /** The currents of the stays, in the order of time, A. */
  List<Double> currentsA() {
    return stays.points().stream().map(p -> p.currentA().value()).toList();
  }

  TemperaturePoint coldest() {
    return extreme(-1);
  }

  TemperaturePoint hottest() {
    return extreme(1);
  }

  /** The first of the coldest, side -1, or of the hottest, side 1. */
  private TemperaturePoint extreme(int side) {
    TemperaturePoint found = stays.points().get(0);
    for (TemperaturePoint p : stays.points()) {
      boolean beyond = side * p.temperatureDegC().value() > side * found.temperatureDegC().value();
      found = beyond ? p : found;
    }
    return found;
  }

  double spanK() {
    return hottest().temperatureDegC().value() - coldest().temperatureDegC().value();
  }
}
