// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.conformity;

import java.util.Optional;
import millrace.evidence.Limit;
import org.apache.commons.math3.analysis.integration.gauss.GaussIntegrator;
import org.apache.commons.math3.analysis.integration.gauss.GaussIntegratorFactory;
import org.apache.commons.math3.distribution.NormalDistribution;

/**
 * The risks of accepting a bad unit and of rejecting a good one, before it is measured, where units
 * and measurements are normal (JCGM 106:2012, 9.5; methods.md 7.1). Pure; thread-safe.
 *
 * @param consumer probability that a unit lies outside the limit and is accepted, 0 to 1
 * @param producer probability that a unit lies inside the limit and is rejected, 0 to 1
 */
public record GlobalRisk(double consumer, double producer) {
  private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

  /** Beyond so many standard deviations there are no units. */
  private static final double TAIL = 9;

  private static final int PIECES = 40;
  private static final GaussIntegrator UNIT = new GaussIntegratorFactory().legendre(16, 0, 1);

  /**
   * The units of a batch and how well they are measured.
   *
   * @param mean of the units, in the unit of the limit
   * @param spread standard deviation of the units themselves, without that of the measurement,
   *     above 0
   * @param standardUncertainty of a measurement, above 0
   */
  public record Batch(double mean, double spread, double standardUncertainty) {
    /** Checks the sizes. */
    public Batch {
      if (!(spread > 0) || !(standardUncertainty > 0)) {
        throw new IllegalArgumentException(
            "spread %s and standard uncertainty %s must be above 0"
                .formatted(spread, standardUncertainty));
      }
    }
  }

  /**
   * The risks: R_C is the integral over units outside the limit of their density times the
   * probability of acceptance, R_P over units inside times that of rejection (JCGM 106:2012,
   * equations 16 and 17, numbers from memory).
   *
   * @param batch the units and the measurement
   * @param limit what a unit must lie in
   * @param acceptance what a measured value must lie in; empty if nothing is accepted
   * @return both risks
   */
  public static GlobalRisk of(Batch batch, Limit limit, Optional<Limit> acceptance) {
    double low = batch.mean() - TAIL * batch.spread();
    double high = batch.mean() + TAIL * batch.spread();
    double from = Math.min(Math.max(limit.lower().orElse(low), low), high);
    double to = Math.max(Math.min(limit.upper().orElse(high), high), from);
    double below = accepted(batch, acceptance, low, from);
    double above = accepted(batch, acceptance, to, high);
    double inside = cumulative(batch, to) - cumulative(batch, from);
    double good = accepted(batch, acceptance, from, to);
    return new GlobalRisk(within(below + above), within(inside - good));
  }

  private static double within(double probability) {
    return Math.min(1, Math.max(0, probability));
  }

  private static double cumulative(Batch batch, double value) {
    return NORMAL.cumulativeProbability((value - batch.mean()) / batch.spread());
  }

  /** Probability that a unit lies between two values and is accepted. */
  private static double accepted(Batch batch, Optional<Limit> acceptance, double from, double to) {
    if (acceptance.isEmpty() || !(to > from)) {
      return 0;
    }
    double step = (to - from) / PIECES;
    double sum = 0;
    for (int i = 0; i < PIECES; i++) {
      double start = from + i * step;
      sum +=
          step
              * UNIT.integrate(
                  x -> {
                    double unit = start + x * step;
                    double z = (unit - batch.mean()) / batch.spread();
                    return NORMAL.density(z)
                        / batch.spread()
                        * passes(batch, acceptance.get(), unit);
                  });
    }
    return sum;
  }

  private static double passes(Batch batch, Limit acceptance, double unit) {
    double u = batch.standardUncertainty();
    double above =
        acceptance.upper().isPresent()
            ? NORMAL.cumulativeProbability((acceptance.upper().getAsDouble() - unit) / u)
            : 1;
    double below =
        acceptance.lower().isPresent()
            ? NORMAL.cumulativeProbability((acceptance.lower().getAsDouble() - unit) / u)
            : 0;
    return above - below;
  }
}
