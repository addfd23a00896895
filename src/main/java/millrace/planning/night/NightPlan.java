// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.List;
import java.util.Optional;
import millrace.planning.LimitForecast;

/**
 * The result of a search for a night.
 *
 * @param night the proposed night
 * @param here its point, for comparison with the curve
 * @param kept for each amount that could be smaller, the reason why it is not
 * @param undecidable limits that no night on this bench decides, as the richest night shows
 * @param missed limits whose U is larger than wanted, for example where the hours are too few
 * @param curve computed nights of which no shorter one has a smaller U, rising in length
 * @param searched whether the search came to its end; false if it ran out of time
 */
public record NightPlan(
    TriedNight night,
    CurvePoint here,
    List<Kept> kept,
    List<LimitForecast> undecidable,
    List<LimitForecast> missed,
    List<CurvePoint> curve,
    boolean searched) {

  /** Copies the lists. */
  public NightPlan {
    kept = List.copyOf(kept);
    undecidable = List.copyOf(undecidable);
    missed = List.copyOf(missed);
    curve = List.copyOf(curve);
  }

  /**
   * The reason why a night has no less of an amount.
   *
   * @param of the amount
   * @param amount its size, in words
   * @param less the amount that would be too small, in words
   * @param missed the limit that is then missed by most
   * @param others the number of other limits missed
   */
  public record Kept(NightAmount of, String amount, String less, LimitForecast missed, int others) {
    /** The same for a night whose amount was raised again. */
    Kept in(NightDesign design) {
      return new Kept(of, design.words(of), less, missed, others);
    }
  }

  /**
   * The results of a night of one length.
   *
   * @param hours its length, h
   * @param worstShare the largest ratio of U to the largest U that decides, among limits that can
   *     be decided; empty where one of them has no U
   * @param decided the number of limits decided
   */
  public record CurvePoint(double hours, Optional<Double> worstShare, int decided) {}
}
