// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.uncertainty;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.DoubleSupplier;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.distribution.TDistribution;

/**
 * Quantiles of the distributions that bounds are made of. Each is found by a search, and the same
 * few are asked for again for every result, fit and trial, so found ones are kept. Thread-safe.
 */
public final class Quantiles {
  /** Degrees of freedom that are computed may all differ: so many quantiles are kept, no more. */
  private static final int MOST_KEPT = 10_000;

  private static final Map<Asked, Double> KEPT = new ConcurrentHashMap<>();

  private Quantiles() {}

  private enum Shape {
    NORMAL,
    STUDENT_T,
    CHI_SQUARED
  }

  private record Asked(Shape shape, double probability, double degreesOfFreedom) {}

  /**
   * Of the normal distribution with mean 0 and standard deviation 1.
   *
   * @param probability to lie below, above 0 and below 1
   * @return the quantile
   */
  public static double normal(double probability) {
    return kept(
        new Asked(Shape.NORMAL, probability, 0),
        () -> new NormalDistribution(null, 0, 1).inverseCumulativeProbability(probability));
  }

  /**
   * Of Student's t.
   *
   * @param probability to lie below, above 0 and below 1
   * @param degreesOfFreedom above 0
   * @return the quantile
   */
  public static double studentT(double probability, double degreesOfFreedom) {
    return kept(
        new Asked(Shape.STUDENT_T, probability, degreesOfFreedom),
        () -> new TDistribution(null, degreesOfFreedom).inverseCumulativeProbability(probability));
  }

  /**
   * Of chi squared.
   *
   * @param probability to lie below, above 0 and below 1
   * @param degreesOfFreedom above 0
   * @return the quantile
   */
  public static double chiSquared(double probability, double degreesOfFreedom) {
    return kept(
        new Asked(Shape.CHI_SQUARED, probability, degreesOfFreedom),
        () ->
            new ChiSquaredDistribution(null, degreesOfFreedom)
                .inverseCumulativeProbability(probability));
  }

  private static double kept(Asked asked, DoubleSupplier computed) {
    Double known = KEPT.get(asked);
    if (known != null) {
      return known;
    }
    double quantile = computed.getAsDouble();
    if (KEPT.size() < MOST_KEPT) {
      KEPT.put(asked, quantile);
    }
    return quantile;
  }
}
