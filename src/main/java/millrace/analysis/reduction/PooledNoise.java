// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.analysis.uncertainty.CorrelatedNoise;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.Quantiles;
import millrace.evidence.ErrorDistribution;

/**
 * Type A uncertainty of points that share range, meter range and integration time: the standard
 * deviation is pooled over them, neighbouring readings may be correlated, and a mean is never
 * better known than the resolution allows (methods.md 2.1; JCGM 100:2008, 4.2.4 and H.3.6): u_A^2 =
 * max(s_p^2 ((n-1)/(n-D)) D/n, d^2/12). A point that scatters abnormally is left out of the pool
 * and carries its own scatter.
 *
 * <p>Immutable and thread-safe.
 */
public final class PooledNoise {
  /** Beyond this correlation the scatter between repeats counts too (methods.md 2.1). */
  public static final double STRONG_CORRELATION = 0.5;

  private static final String UNCORRELATED = "correlation of neighbouring readings taken as 0";
  private static final double ABNORMAL_RATIO = 3;
  private static final double CHANCE = 1e-5;

  private final String name;
  private final double standardDeviation;
  private final double usualVariance;
  private final double degreesOfFreedom;
  private final double autocorrelation;
  private final double resolution;
  private final Floor floor;
  private final Optional<CorrelatedNoise> shared;
  private final Set<String> sharing;
  private final List<String> notes;

  /**
   * What a mean's uncertainty is not below, however many readings there are: the scatter between
   * repeats, or flicker noise.
   *
   * @param u standard uncertainty, 0 or more
   * @param degreesOfFreedom how well it is known; empty for infinite
   * @param why what it comes from
   */
  public record Floor(double u, OptionalDouble degreesOfFreedom, String why) {}

  private static final Floor NO_FLOOR = new Floor(0, OptionalDouble.empty(), "none");

  private PooledNoise(String name, List<ReadingStatistics> points, double resolution) {
    this.name = name;
    this.resolution = resolution;
    this.floor = NO_FLOOR;
    this.shared = Optional.empty();
    this.sharing = Set.of();
    this.notes = new ArrayList<>();
    this.usualVariance = usual(points);
    List<ReadingStatistics> steady = new ArrayList<>();
    for (ReadingStatistics p : points) {
      if (p.n() > 1 && !unsteady(p)) {
        steady.add(p);
      }
    }
    long readings = steady.stream().mapToLong(ReadingStatistics::n).sum();
    boolean enough = readings >= Autocorrelation.LEAST_READINGS;
    this.autocorrelation = enough ? Autocorrelation.pooled(steady) : 0;
    double squares = steady.stream().mapToDouble(ReadingStatistics::sumOfSquares).sum();
    double free = (double) readings - steady.size();
    this.standardDeviation = free > 0 ? Math.sqrt(squares / free) : 0;
    double r2 = autocorrelation * autocorrelation;
    this.degreesOfFreedom = free * (1 - r2) / (1 + r2);
    if (!enough) {
      notes.add(
          UNCORRELATED
              + ": %s readings, needs %s to tell"
                  .formatted(readings, Autocorrelation.LEAST_READINGS));
    }
    if (free == 0) {
      notes.add("one reading a point: their noise is not known");
    }
  }

  private PooledNoise(
      PooledNoise other, Floor floor, Optional<CorrelatedNoise> shared, Set<String> sharing) {
    this.name = other.name;
    this.standardDeviation = other.standardDeviation;
    this.usualVariance = other.usualVariance;
    this.degreesOfFreedom = other.degreesOfFreedom;
    this.autocorrelation = other.autocorrelation;
    this.resolution = other.resolution;
    this.floor = floor;
    this.shared = shared;
    this.sharing = Set.copyOf(sharing);
    boolean known = shared.flatMap(n -> n.carried(Map.of())).isPresent();
    this.notes = other.notes.stream().filter(n -> !known || !n.startsWith(UNCORRELATED)).toList();
  }

  /**
   * Pools the noise of points (methods.md 2.1).
   *
   * @param name what the points share, for example {@code 1mA dmm1 10mA}
   * @param points the points; may be empty
   * @param resolution d, the step of the readings, in their unit, 0 or more; 0 if not known
   * @return the pooled noise
   */
  public static PooledNoise of(String name, List<ReadingStatistics> points, double resolution) {
    if (!(resolution >= 0) || Double.isInfinite(resolution)) {
      throw new IllegalArgumentException("resolution is " + resolution + ", must be 0 or more");
    }
    return new PooledNoise(name, points, resolution);
  }

  /** The median of the variances, over the median that chance gives: deaf to a few wild points. */
  private static double usual(List<ReadingStatistics> points) {
    double[] variances =
        points.stream()
            .filter(p -> p.n() > 1)
            .mapToDouble(p -> p.variance() / medianRatio(p.n() - 1.0))
            .toArray();
    Arrays.sort(variances);
    int n = variances.length;
    return n == 0 ? 0 : (variances[(n - 1) / 2] + variances[n / 2]) / 2;
  }

  /** The median of chi-squared over nu, by Wilson and Hilferty, PNAS 17 (1931) 684. */
  private static double medianRatio(double nu) {
    return Math.pow(1 - 2 / (9 * nu), 3);
  }

  /**
   * The same noise, with a floor under every mean: where r1 exceeds {@link #STRONG_CORRELATION} or
   * points were repeated, the scatter between repeats; where flicker noise was measured, the floor
   * of the Allan deviation (methods.md 2.1).
   *
   * @param least the floor
   * @return the noise with the higher floor of both
   */
  public PooledNoise noLessThan(Floor least) {
    return least.u() > floor.u() ? new PooledNoise(this, least, shared, sharing) : this;
  }

  /**
   * The same noise, with what stands in its place where points are added up (methods.md 2.1, 5.10).
   *
   * @param noise what their readings tell together
   * @param keys the points that it knows
   * @return the noise
   */
  public PooledNoise sharing(CorrelatedNoise noise, Set<String> keys) {
    return new PooledNoise(this, floor, Optional.of(noise), keys);
  }

  /**
   * Tells whether a point scatters so much more than the others that chance does not explain it, as
   * a source that oscillates near its knee does (methods.md 3.2).
   *
   * @param point the point
   * @return true if its standard deviation is beyond three times the usual one and beyond chance
   */
  public boolean unsteady(ReadingStatistics point) {
    if (point.n() < 2 || point.sumOfSquares() == 0) {
      return false;
    }
    double usual = Math.max(usualVariance, resolution * resolution / 12);
    if (!(point.variance() > ABNORMAL_RATIO * ABNORMAL_RATIO * usual)) {
      return false;
    }
    double nu = point.n() - 1.0;
    return point.sumOfSquares() > usual * Quantiles.chiSquared(1 - CHANCE, nu);
  }

  /**
   * The mean of a point with its type A uncertainty as a point-wise source.
   *
   * @param point its statistics
   * @param key the point's name
   * @param unit unit of the readings
   * @return the mean
   */
  public Estimate mean(ReadingStatistics point, String key, String unit) {
    boolean own = unsteady(point);
    double s = own ? Math.sqrt(point.variance()) : standardDeviation;
    double u = meanUncertainty(s, (double) point.n());
    double step = resolution / Math.sqrt(12);
    Estimate mean = Estimate.exact(point.mean());
    if (floor.u() > Math.max(u, step)) {
      return mean.with(
          source(floor.why(), key, floor.u(), floor.degreesOfFreedom(), unit)
              .sizedBy(floor.degreesOfFreedom(), name),
          1);
    } else if (step > u) {
      return mean.with(
          ErrorSource.within("resolution", ErrorSource.POINT, key, resolution / 2, unit), 1);
    } else if (own) {
      OptionalDouble nu = OptionalDouble.of(point.n() - 1.0);
      return mean.with(
          new ErrorSource(
              "meter noise", ErrorSource.POINT, key, ErrorDistribution.NORMAL, nu, u, unit, key),
          1);
    }
    OptionalDouble nu = OptionalDouble.of(Math.max(1, degreesOfFreedom));
    return mean.with(source("meter noise", key, u, nu, unit), 1);
  }

  private ErrorSource source(
      String component, String key, double u, OptionalDouble nu, String unit) {
    ErrorSource own =
        new ErrorSource(
            component, ErrorSource.POINT, key, ErrorDistribution.NORMAL, nu, u, unit, name);
    return shared.isPresent() && sharing.contains(key) ? own.sharing(shared.get()) : own;
  }

  private double meanUncertainty(double s, double n) {
    double d = Autocorrelation.factor(n, autocorrelation);
    double single = n > d ? s * s * (n - 1) / (n - d) : s * s;
    return Math.sqrt(single * d / n);
  }

  /**
   * Standard uncertainty of the mean of n readings, resolution and floor included.
   *
   * @param n how many, 1 or more
   * @return u_A in the unit of the readings
   */
  public double meanUncertainty(long n) {
    double u = meanUncertainty(standardDeviation, (double) n);
    return Math.max(u, Math.max(resolution / Math.sqrt(12), floor.u()));
  }

  /**
   * The pooled standard deviation of a single reading (methods.md 2.1).
   *
   * @return s_p in the unit of the readings; 0 if not known
   */
  public double standardDeviation() {
    return standardDeviation;
  }

  /**
   * How well s_p is known: readings less points, fewer where neighbours are correlated (Bartlett:
   * by (1 - r^2)/(1 + r^2)).
   *
   * @return degrees of freedom, 0 or more
   */
  public double degreesOfFreedom() {
    return degreesOfFreedom;
  }

  /**
   * What a reader must know.
   *
   * @return whole sentences
   */
  public List<String> notes() {
    return List.copyOf(notes);
  }
}
