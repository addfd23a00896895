// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import java.util.Arrays;
import java.util.function.ToDoubleFunction;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.apache.commons.math3.random.SobolSequenceGenerator;

/**
 * Generalized confidence intervals of the components of a gauge study (Weerahandi, J. Amer.
 * Statist. Assoc. 88 (1993) 899; for gauge studies Burdick, Borror and Montgomery, Design and
 * Analysis of Gauge R&amp;R Studies, 2005; both from memory; methods.md 8). Each mean square is
 * replaced by itself times its degrees of freedom over chi squared, which is sampled along a Sobol
 * sequence, so that the same study always gives the same figures; the ends are quantiles of the
 * samples. The intervals are wide where operators or units are few.
 */
public final class GaugeIntervals {
  /** Enough samples for the ends to be right to some thousandths, far finer than they are read. */
  private static final int PLACES = 4000;

  private static final int EFFECTS = 4;

  private final GaugeStudy.Components[] drawn;
  private final double coverage;

  private GaugeIntervals(GaugeStudy.Components[] drawn, double coverage) {
    this.drawn = drawn;
    this.coverage = coverage;
  }

  /**
   * The intervals of one study.
   *
   * @param study the study
   * @param coverage probability of each interval, above 0 and below 1
   * @return its intervals
   */
  public static GaugeIntervals of(GaugeStudy study, double coverage) {
    GaugeStudy.Effect[] effects = {
      study.units(), study.operators(), study.interaction(), study.repeatability()
    };
    GaugeStudy.Effect rest = study.repeatability().with(study.interaction());
    SobolSequenceGenerator places = new SobolSequenceGenerator(EFFECTS);
    places.skipTo(1);
    Quantiles[] quantiles = new Quantiles[EFFECTS + 1];
    for (int i = 0; i < EFFECTS; i++) {
      quantiles[i] = new Quantiles(effects[i].degreesOfFreedom());
    }
    quantiles[EFFECTS] = new Quantiles(rest.degreesOfFreedom());
    GaugeStudy.Components[] drawn = new GaugeStudy.Components[PLACES];
    for (int k = 0; k < PLACES; k++) {
      double[] at = places.nextVector();
      double units = effects[0].squares() / quantiles[0].at(at[0]);
      double operators = effects[1].squares() / quantiles[1].at(at[1]);
      double both = effects[2].squares() / quantiles[2].at(at[2]);
      double within = effects[3].squares() / quantiles[3].at(at[3]);
      double pooled = rest.squares() / quantiles[EFFECTS].at(at[3]);
      drawn[k] =
          study.pooled()
              ? study.components(units, operators, pooled, pooled)
              : study.components(units, operators, both, within);
    }
    return new GaugeIntervals(drawn, coverage);
  }

  /** Quantiles of chi squared, from a table fine enough for the ends of an interval. */
  private static final class Quantiles {
    private static final int STEPS = 512;

    private final double[] table = new double[STEPS + 1];

    Quantiles(int nu) {
      ChiSquaredDistribution chi = new ChiSquaredDistribution(null, nu);
      for (int i = 0; i <= STEPS; i++) {
        double share = Math.min(1 - 0.25 / STEPS, Math.max(0.25 / STEPS, (double) i / STEPS));
        table[i] = Math.log(chi.inverseCumulativeProbability(share));
      }
    }

    double at(double share) {
      int i = Math.min(STEPS - 1, (int) (share * STEPS));
      double part = share * STEPS - i;
      return Math.exp(table[i] + part * (table[i + 1] - table[i]));
    }
  }

  private Interval of(ToDoubleFunction<GaugeStudy.Components> what) {
    double[] sorted = Arrays.stream(drawn).mapToDouble(what).sorted().toArray();
    double tail = (1 - coverage) / 2;
    return new Interval(
        sorted[(int) (tail * PLACES)], sorted[Math.min(PLACES - 1, (int) ((1 - tail) * PLACES))]);
  }

  /**
   * Interval of the repeatability: one operator, one unit.
   *
   * @return ends of the standard deviation, in the unit of the values
   */
  public Interval repeatability() {
    return of(c -> Math.sqrt(c.repeatability()));
  }

  /**
   * Interval of the reproducibility: operators and their interaction with units.
   *
   * @return ends of the standard deviation, in the unit of the values
   */
  public Interval reproducibility() {
    return of(c -> Math.sqrt(c.operator() + c.interaction()));
  }

  /**
   * Interval of the unit-to-unit standard deviation.
   *
   * @return ends of the standard deviation, in the unit of the values
   */
  public Interval units() {
    return of(c -> Math.sqrt(c.unit()));
  }

  /**
   * Interval of the whole measurement's standard deviation.
   *
   * @return ends of the standard deviation, in the unit of the values
   */
  public Interval gauge() {
    return of(c -> Math.sqrt(c.gauge()));
  }

  /**
   * Interval of the number of distinct categories.
   *
   * @return whole numbers, 0 or more
   */
  public Interval distinctCategories() {
    Interval ends = of(c -> Math.sqrt(2 * c.unit() / c.gauge()));
    return new Interval(Math.floor(ends.lower()), Math.floor(ends.upper()));
  }
}
