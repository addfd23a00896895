// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.util.List;
import java.util.Optional;
import millrace.evidence.ComputationOutcome;
import millrace.planning.LimitForecast;

/**
 * Finds out whether one draw of the noise is enough for a forecast (methods.md 12). A U from many
 * readings hardly differs from draw to draw, one that rests on slow noise or on few degrees of
 * freedom by a quarter: more draws are needed only where that could change whether a limit is
 * decided. Stateless.
 */
final class DrawsNeeded {
  /** An odd number has a middle. */
  static final int SEVERAL = 3;

  /** From so many degrees of freedom on U is known to 13 %. */
  private static final double MANY = 30;

  /** The largest ratio of the U of two draws, for many degrees of freedom and for few. */
  private static final double OF_MANY = 1.15;

  private static final double OF_FEW = 2;

  private static final String SLOW = "slow noise";

  private DrawsNeeded() {}

  /**
   * The number of draws for deciding what a run leaves out.
   *
   * @param first the limits of a first draw
   * @return 1, or {@link #SEVERAL} where another draw could decide otherwise
   */
  static int toDecide(List<LimitForecast> first) {
    return first.stream().anyMatch(DrawsNeeded::isOpen) ? SEVERAL : 1;
  }

  /**
   * The number of draws for showing each U.
   *
   * @param first the limits of a first draw
   * @return 1, or {@link #SEVERAL} where a U rests on few degrees of freedom, too
   */
  static int toShow(List<LimitForecast> first) {
    boolean few = first.stream().anyMatch(l -> l.expandedU().isPresent() && restsOnFew(l));
    return few ? SEVERAL : toDecide(first);
  }

  /** Whether another draw could decide a limit that this one leaves open, or the reverse. */
  private static boolean isOpen(LimitForecast limit) {
    Optional<Double> most = limit.largestU();
    if (most.isEmpty()) {
      return false;
    }
    double share = limit.expandedU().orElseThrow() / most.get();
    double range = restsOnFew(limit) ? OF_FEW : OF_MANY;
    return share < range && share > 1 / range;
  }

  private static boolean restsOnFew(LimitForecast limit) {
    boolean few =
        limit
            .uncertainty()
            .map(ComputationOutcome.Uncertainty::degreesOfFreedom)
            .filter(nu -> nu.orElse(MANY) < MANY)
            .isPresent();
    return few || limit.largest().filter(l -> l.component().contains(SLOW)).isPresent();
  }
}
