// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.List;
import java.util.Optional;
import millrace.planning.LimitForecast;

/**
 * What a search for a night found.
 *
 * @param night the night that is proposed
 * @param here what it comes to, beside the curve
 * @param kept why there is no less of what there could be less of
 * @param undecidable limits that no night on this bench decides, as the richest night sees them
 * @param missed limits whose U is larger than what was wanted, as where hours were too few
 * @param curve computed nights of which none shorter has a smaller U, rising in length
 * @param searched whether the search came to its end; else its time was up
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
   * Why a night has no less of something.
   *
   * @param lever of what
   * @param amount how much it has, in words
   * @param less how much would be too little, in words
   * @param missed the limit that falls short most then
   * @param others how many others do
   */
  public record Kept(
      NightLever lever, String amount, String less, LimitForecast missed, int others) {
    /** The same of a night that has more of it again. */
    Kept in(NightDesign design) {
      return new Kept(lever, design.amount(lever), less, missed, others);
    }
  }

  /**
   * What a night of one length comes to.
   *
   * @param hours its length, h
   * @param worstShare the largest U over the largest that decides, of limits that can be decided;
   *     empty where one of them has no U
   * @param decided how many limits it decides
   */
  public record CurvePoint(double hours, Optional<Double> worstShare, int decided) {}
}
