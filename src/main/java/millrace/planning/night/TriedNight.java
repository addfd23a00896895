// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.planning.LimitForecast;

/**
 * A night that was computed.
 *
 * @param design how much it has of what
 * @param sequence the text of its file
 * @param secondsByPart how long it takes, s, by part
 * @param limits what it will be able to say
 */
public record TriedNight(
    NightDesign design,
    String sequence,
    Map<String, Double> secondsByPart,
    List<LimitForecast> limits) {
  private static final double HOUR_S = 3600;

  /** Copies the list. */
  public TriedNight {
    limits = List.copyOf(limits);
  }

  /**
   * How long it takes.
   *
   * @return h
   */
  public double hours() {
    return hours(secondsByPart);
  }

  static double hours(Map<String, Double> secondsByPart) {
    return secondsByPart.values().stream().mapToDouble(Double::doubleValue).sum() / HOUR_S;
  }

  /**
   * How many limits it decides.
   *
   * @return from 0
   */
  public int decided() {
    return (int) limits.stream().filter(LimitForecast::isDecided).count();
  }

  /**
   * The largest U among limits, as a share of the largest that would decide.
   *
   * @param among which limits count, as {@link #key}
   * @return above 0; infinite where one of them has no U; 0 if none counts
   */
  double worstShare(List<String> among) {
    return limits.stream()
        .filter(l -> among.contains(key(l)))
        .mapToDouble(TriedNight::share)
        .max()
        .orElse(0);
  }

  /** The mean of the squares of those shares; infinite where one of them has no U. */
  double meanShare(List<String> among) {
    return limits.stream()
        .filter(l -> among.contains(key(l)))
        .mapToDouble(l -> share(l) * share(l))
        .average()
        .orElse(0);
  }

  /** U over the largest U that would decide; limits without U count as they are decided or not. */
  static double share(LimitForecast limit) {
    Optional<Double> u = expanded(limit);
    Optional<Double> most = limit.largestU();
    if (u.isEmpty() || most.isEmpty()) {
      return limit.isDecided() ? 0 : Double.POSITIVE_INFINITY;
    }
    return most.get() > 0 ? u.get() / most.get() : Double.POSITIVE_INFINITY;
  }

  static Optional<Double> expanded(LimitForecast limit) {
    return limit.result().outcome() instanceof millrace.evidence.ComputationOutcome.Value v
        ? v.uncertainty().map(millrace.evidence.ComputationOutcome.Uncertainty::expanded)
        : Optional.empty();
  }

  /** What tells a limit from the others of its datasheet. */
  static String key(LimitForecast limit) {
    return limit.key();
  }
}
