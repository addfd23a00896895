// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.planning.LimitForecast;

/**
 * A computed night.
 *
 * @param design the amounts of the night
 * @param sequence the text of its file
 * @param secondsByPart its time, s, by part
 * @param limits the forecast of each limit
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
   * The length of the night.
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
   * The number of limits that it decides.
   *
   * @return 0 or more
   */
  public int decided() {
    return (int) limits.stream().filter(LimitForecast::isDecided).count();
  }

  /**
   * The largest U among limits, as a share of the largest U that decides.
   *
   * @param among the limits that count, as {@link #key}
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

  /** The limits whose share another night lowers by more than a part of it. */
  List<String> lowered(TriedNight other, double part) {
    return limits.stream()
        .map(TriedNight::key)
        .filter(key -> other.worstShare(List.of(key)) < (1 - part) * worstShare(List.of(key)))
        .toList();
  }

  /** U divided by the largest U that decides; a limit without U counts by whether it is decided. */
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

  /** Identifies a limit among those of its datasheet. */
  static String key(LimitForecast limit) {
    return limit.key();
  }
}
