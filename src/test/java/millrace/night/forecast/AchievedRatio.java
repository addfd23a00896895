// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ResultQuantity;
import millrace.night.forecast.ForecastNight.Known;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;

/**
 * Predicted U over the U that came out, and the band in which 95 % of such ratios are expected. The
 * part of U that was found by scatter varies from night to night as sqrt(chi^2_nu/nu) (Abramowitz
 * and Stegun, Handbook of Mathematical Functions, 26.4; JCGM 100:2008, E.4.3), the rest does not.
 *
 * @param quantity of the limit
 * @param range of the unit
 * @param value predicted over achieved
 * @param degrees of freedom of U as a whole
 * @param scatterDegrees of freedom of the part found by scatter
 * @param scatterShare of u^2 that was found by scatter, 0 to 1
 */
record AchievedRatio(
    ResultQuantity quantity,
    String range,
    double value,
    double degrees,
    double scatterDegrees,
    double scatterShare) {

  /** From so many degrees of freedom on U is known to 13 %. */
  private static final double MANY = 30;

  /** What three visits to T_ref tell of slow noise, a level and a drift being fitted. */
  private static final double VISITS = 1;

  private static final String SLOW = "slow noise";

  static AchievedRatio of(Known predicted, Known achieved) {
    double all = 0;
    double scatter = 0;
    double fourth = 0;
    for (BudgetComponent c : predicted.budget()) {
      double variance = c.contribution() * c.contribution();
      OptionalDouble nu =
          c.component().contains(SLOW) ? OptionalDouble.of(VISITS) : c.degreesOfFreedom();
      all += variance;
      if (nu.isPresent()) {
        scatter += variance;
        fourth += variance * variance / nu.getAsDouble();
      }
    }
    return new AchievedRatio(
        achieved.quantity(),
        achieved.range(),
        predicted.expanded() / achieved.expanded(),
        fourth > 0 ? all * all / fourth : Double.POSITIVE_INFINITY,
        fourth > 0 ? scatter * scatter / fourth : Double.POSITIVE_INFINITY,
        all > 0 ? scatter / all : 0);
  }

  boolean isWellKnown() {
    return degrees >= MANY;
  }

  boolean isWithin() {
    return value >= lower() && value <= upper();
  }

  double lower() {
    return isWellKnown() ? 0.8 : 1 / achieved(0.975);
  }

  double upper() {
    return isWellKnown() ? 1.25 : 1 / achieved(0.025);
  }

  /** Achieved over predicted U that is not exceeded with a probability. */
  private double achieved(double probability) {
    double chi2 =
        new ChiSquaredDistribution(scatterDegrees).inverseCumulativeProbability(probability);
    return Math.sqrt(1 - scatterShare + scatterShare * chi2 / scatterDegrees);
  }

  static double within(Stream<AchievedRatio> ratios) {
    return ratios.mapToInt(r -> r.isWithin() ? 1 : 0).average().orElse(0);
  }

  /** One row of a table of figures. */
  static String row(String name, List<AchievedRatio> ratios) {
    double[] rising = ratios.stream().mapToDouble(AchievedRatio::value).sorted().toArray();
    AchievedRatio first = ratios.get(0);
    return String.format(
        Locale.ROOT,
        "  %-22s n %4d: 2.5 %% %.2f, median %.2f, 97.5 %% %.2f; within %.1f %% of the band"
            + " (%.2f to %.2f), %.1f %% from 0.8 to 1.25",
        name,
        rising.length,
        rising[(int) (0.025 * rising.length)],
        rising[rising.length / 2],
        rising[(int) (0.975 * rising.length)],
        100 * within(ratios.stream()),
        first.lower(),
        first.upper(),
        100 * ratios.stream().mapToInt(r -> plain(r.value()) ? 1 : 0).average().orElse(0));
  }

  private static boolean plain(double ratio) {
    return ratio >= 0.8 && ratio <= 1.25;
  }
}
