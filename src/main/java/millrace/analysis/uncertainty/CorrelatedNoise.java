// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.uncertainty;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;

/**
 * Noise of readings that are not independent of one another: what it makes of a weighted sum of
 * points is not the root of a sum of squares of each point's own (methods.md 2.1, 5.10). Where
 * sources point here, a budget takes this in their place, as one row. Implementations are
 * thread-safe.
 */
public interface CorrelatedNoise {

  /** What a result asks of its points. */
  enum Use {
    /** Any weighted sum of points. */
    POINTS,
    /** A comparison of visits to temperatures. */
    VISITS,
    /** The same, beside a time term. */
    VISITS_AND_TIME,
    /** A comparison of two visits to one temperature with an excursion between. */
    HYSTERESIS
  }

  /**
   * What noise makes of a weighted sum.
   *
   * @param component what it is called in a budget
   * @param u half of U at 95.45 %, in the unit of the sum; infinitely well known
   * @param known false where its size cannot be estimated: the sum then has no uncertainty
   * @param notes how it was estimated
   */
  record Carried(String component, double u, boolean known, List<String> notes) {
    /** Copies the notes. */
    public Carried {
      notes = List.copyOf(notes);
    }
  }

  /**
   * What noise makes of a weighted sum of points.
   *
   * @param weights of each point's mean, by the instance of its source
   * @return empty where each point's own noise counts
   */
  Optional<Carried> carried(Map<String, Double> weights);

  /**
   * The mean variance of a weighted sum of points.
   *
   * @param weights of each point's mean, by the instance of its source
   * @return the variance; empty where each point's own noise counts
   */
  Optional<Double> variance(Map<String, Double> weights);

  /** Draws the noise of some points as it might have been. Thread-safe. */
  @FunctionalInterface
  interface Sampler {
    /**
     * Draws once.
     *
     * @param random where chance comes from
     * @return the error of each point's mean, in the order of the points asked for
     */
    double[] next(SplittableRandom random);
  }

  /**
   * Draws the noise of points together, for trials.
   *
   * @param instances the points, by the instances of their sources; one that is none of its points
   *     has no error
   * @return empty where each point's own noise counts
   */
  Optional<Sampler> sampler(List<String> instances);

  /**
   * The same noise for another kind of result.
   *
   * @param use what is asked
   * @return the noise
   */
  CorrelatedNoise forUse(Use use);
}
