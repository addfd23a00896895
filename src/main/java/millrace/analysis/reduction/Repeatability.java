// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Quantiles;

/**
 * Scatter between repeats of the same points, below which the type A uncertainty of a point must
 * not fall (methods.md 2.1; JCGM 100:2008, H.5: between-day scatter beside that of the readings).
 * An even drift through each stay, which fits take care of by their time term, is taken off first.
 * Within its 95 % bound it is a second estimate of the same noise and is known as well as both
 * together; beyond it stands for itself. Pure; thread-safe.
 */
public final class Repeatability {
  /** What it is called in a budget. */
  public static final String SCATTER = "scatter between repeats";

  private static final double CHANCE = 0.95;
  private static final double WIDE = 0.5;

  private Repeatability() {}

  /**
   * One take of a point.
   *
   * @param timeS when, s
   * @param value its mean
   * @param u its standard uncertainty by its own readings, 0 or more
   */
  public record Repeat(double timeS, double value, double u) {}

  /**
   * The floor that repeats set.
   *
   * @param stays for each stay at constant conditions its points, for each point its repeats
   * @param own degrees of freedom of the noise that the readings tell, 0 or more
   * @return the standard deviation of one take; empty where nothing was repeated
   */
  public static Optional<PooledNoise.Floor> floor(List<List<List<Repeat>>> stays, double own) {
    List<ReadingStatistics> scatter = new ArrayList<>();
    double stated = 0;
    int takes = 0;
    int slopes = 0;
    for (List<List<Repeat>> stay : stays) {
      OptionalDouble drift = drift(stay);
      if (drift.isPresent()) {
        slopes++;
        for (List<Repeat> point : stay) {
          scatter.add(residuals(point, drift.getAsDouble()));
          stated += point.stream().mapToDouble(r -> r.u() * r.u()).sum();
          takes += point.size();
        }
      }
    }
    PooledNoise pooled = PooledNoise.of(SCATTER, scatter, 0);
    double free = pooled.degreesOfFreedom() - slopes;
    if (!(free >= 1)) {
      return Optional.empty();
    }
    double s2 = Math.pow(pooled.standardDeviation(), 2) * pooled.degreesOfFreedom() / free;
    double bound = Quantiles.chiSquared(CHANCE, free) / free;
    double known = s2 > bound * stated / takes ? free : free + own;
    return Optional.of(new PooledNoise.Floor(Math.sqrt(s2), OptionalDouble.of(known), SCATTER));
  }

  /** The median of what the widest pairs tell, per second; empty where nothing was repeated. */
  private static OptionalDouble drift(List<List<Repeat>> stay) {
    double widest = stay.stream().mapToDouble(Repeatability::spanS).max().orElse(0);
    double[] rates =
        stay.stream()
            .filter(p -> spanS(p) > 0 && spanS(p) >= WIDE * widest)
            .mapToDouble(p -> (last(p).value() - p.get(0).value()) / spanS(p))
            .sorted()
            .toArray();
    int n = rates.length;
    return n == 0
        ? OptionalDouble.empty()
        : OptionalDouble.of((rates[(n - 1) / 2] + rates[n / 2]) / 2);
  }

  private static double spanS(List<Repeat> point) {
    return last(point).timeS() - point.get(0).timeS();
  }

  private static Repeat last(List<Repeat> point) {
    return point.get(point.size() - 1);
  }

  private static ReadingStatistics residuals(List<Repeat> point, double perS) {
    double middle = point.stream().mapToDouble(Repeat::timeS).average().orElse(0);
    return ReadingAccumulator.statisticsOf(
        point.stream().mapToDouble(r -> r.value() - perS * (r.timeS() - middle)).toArray());
  }
}
