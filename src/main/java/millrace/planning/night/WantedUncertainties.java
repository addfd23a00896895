// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.Limit;
import millrace.planning.LimitForecast;

/**
 * The wanted U of each limit (methods.md 12): a margin below the U that decides it, since the U of
 * a run is not known exactly before the run; and at most a quarter of the tolerance where the
 * richest night reaches that (a test uncertainty ratio of 4: common practice, no source).
 */
final class WantedUncertainties {
  private static final double MARGIN = 1.25;
  private static final double OF_TOLERANCE = 0.25;
  private static final double NO_WORSE = 1.02;

  /**
   * The scatter of the readings makes U differ by this ratio when the same night is computed twice.
   */
  private static final double SCATTER = 1.05;

  /** The share of the largest U that decides. */
  private static final double FAR_SMALLER = 0.05;

  private final Map<String, OptionalDouble> mostU = new LinkedHashMap<>();

  /**
   * Makes the wanted U from the night with the most of everything.
   *
   * @param richest that night
   * @param asGoodAs the results of another sequence, whose U are wanted instead; empty for none
   */
  WantedUncertainties(TriedNight richest, List<LimitForecast> asGoodAs) {
    Map<String, Double> others = new HashMap<>();
    for (LimitForecast other : asGoodAs) {
      TriedNight.expanded(other).ifPresent(u -> others.put(TriedNight.key(other), u));
    }
    for (LimitForecast limit : richest.limits()) {
      if (limit.isDecided()) {
        String key = TriedNight.key(limit);
        Optional<Double> other = Optional.ofNullable(others.get(key));
        mostU.put(key, other.map(u -> asSmall(limit, u)).orElseGet(() -> most(limit)));
      }
    }
  }

  /**
   * No night has a smaller U than the richest; a U far below the wanted one is as good as any other
   * that meets it.
   */
  private static OptionalDouble asSmall(LimitForecast limit, double u) {
    double best = TriedNight.expanded(limit).orElse(u);
    double idle = limit.largestU().orElse(0.0) * FAR_SMALLER;
    return OptionalDouble.of(Math.max(idle, Math.max(u * SCATTER, best * NO_WORSE)));
  }

  private static OptionalDouble most(LimitForecast limit) {
    Optional<Double> best = TriedNight.expanded(limit);
    Optional<Double> decides = limit.largestU();
    if (best.isEmpty() || decides.isEmpty()) {
      return OptionalDouble.empty();
    }
    if (limit.answer() == LimitForecast.Answer.FAIL) {
      return OptionalDouble.of(decides.get() / MARGIN); // the exact distance beyond is not needed
    }
    double tolerance = tolerance(limit.result().judgement().orElseThrow().limit());
    double reached = best.get() * NO_WORSE;
    double most = Math.min(decides.get() / MARGIN, Math.max(tolerance * OF_TOLERANCE, reached));
    return OptionalDouble.of(Math.min(decides.get(), Math.max(most, reached)));
  }

  private static double tolerance(Limit limit) {
    return limit.lower().isPresent() && limit.upper().isPresent()
        ? (limit.upper().getAsDouble() - limit.lower().getAsDouble()) / 2
        : Double.POSITIVE_INFINITY;
  }

  /** The limits that can be decided, as {@link TriedNight#key}. */
  List<String> decidable() {
    return List.copyOf(mostU.keySet());
  }

  /** The limits of a night that miss the wanted U; empty for a night that is good enough. */
  List<LimitForecast> missed(TriedNight night) {
    List<LimitForecast> missed = new ArrayList<>();
    for (LimitForecast limit : night.limits()) {
      OptionalDouble most = mostU.getOrDefault(TriedNight.key(limit), OptionalDouble.empty());
      boolean known = mostU.containsKey(TriedNight.key(limit));
      boolean wide =
          most.isPresent()
              && TriedNight.expanded(limit).filter(u -> u <= most.getAsDouble()).isEmpty();
      if (known && (wide || !limit.isDecided())) {
        missed.add(limit);
      }
    }
    return missed;
  }
}
