// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
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

  /** One draw of the noise tells U so well. */
  private static final double OF_ONE_DRAW = 1.1;

  /** Slow noise that only the visits to T_ref tell makes U jump by this from draw to draw. */
  private static final double OF_FEW_VISITS = 2;

  /** The middle of several draws jumps by this. */
  private static final double OF_THEIR_MIDDLE = 1.4;

  private static final String FEW_VISITS = "slow noise";

  private final Map<String, OptionalDouble> mostU;

  /** The limits whose wanted U is that of another sequence with as many draws. */
  private final Set<String> compared;

  private final boolean ofOneDraw;

  /**
   * Makes the wanted U from the night with the most of everything.
   *
   * @param richest that night
   * @param asGoodAs the results of another sequence, whose U are wanted instead; empty for none
   */
  WantedUncertainties(TriedNight richest, List<LimitForecast> asGoodAs) {
    this.mostU = new LinkedHashMap<>();
    this.ofOneDraw = false;
    Map<String, Double> others = new HashMap<>();
    for (LimitForecast other : asGoodAs) {
      TriedNight.expanded(other).ifPresent(u -> others.put(TriedNight.key(other), u));
    }
    this.compared = Set.copyOf(others.keySet());
    for (LimitForecast limit : richest.limits()) {
      if (limit.isDecided()) {
        String key = TriedNight.key(limit);
        Optional<Double> other = Optional.ofNullable(others.get(key));
        mostU.put(key, other.map(u -> asSmall(limit, u)).orElseGet(() -> most(limit)));
      }
    }
  }

  private WantedUncertainties(
      Map<String, OptionalDouble> mostU, Set<String> compared, boolean ofOneDraw) {
    this.mostU = mostU;
    this.compared = compared;
    this.ofOneDraw = ofOneDraw;
  }

  /**
   * The same for nights with one draw of the noise: as much larger as chance makes them, and what
   * the richest night misses in this draw does not count.
   */
  WantedUncertainties ofOneDraw(TriedNight richest) {
    Map<String, OptionalDouble> larger = new LinkedHashMap<>(mostU);
    for (LimitForecast limit : richest.limits()) {
      double best = TriedNight.expanded(limit).orElse(0.0) * NO_WORSE;
      larger.computeIfPresent(
          TriedNight.key(limit),
          (k, most) ->
              most.isPresent() ? OptionalDouble.of(Math.max(best, most.getAsDouble())) : most);
    }
    return new WantedUncertainties(larger, compared, true);
  }

  /** A U far below the wanted one is as good as any other that meets it. */
  private static OptionalDouble asSmall(LimitForecast limit, double u) {
    double idle = limit.largestU().orElse(0.0) * FAR_SMALLER;
    return OptionalDouble.of(Math.max(idle, u * SCATTER));
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

  /**
   * Chance may make U larger than wanted, but the middle of several draws may not use up the margin
   * to what decides the limit: the run itself is one more draw.
   */
  private double allowed(LimitForecast limit, double most) {
    double margin = limit.largestU().map(u -> u / MARGIN).orElse(Double.POSITIVE_INFINITY);
    double byChance = most * chance(limit);
    return ofOneDraw ? byChance : Math.max(most, Math.min(byChance, margin));
  }

  private double chance(LimitForecast limit) {
    boolean few =
        limit.result().budget().stream().anyMatch(c -> c.component().contains(FEW_VISITS));
    if (ofOneDraw) {
      return few ? OF_FEW_VISITS : OF_ONE_DRAW;
    }
    return few && !compared.contains(TriedNight.key(limit)) ? OF_THEIR_MIDDLE : 1;
  }

  /** U divided by the wanted U; infinite without one, 1 where none is wanted. */
  double ratio(LimitForecast limit) {
    OptionalDouble most = mostU.getOrDefault(TriedNight.key(limit), OptionalDouble.empty());
    return most.isEmpty()
        ? 1
        : TriedNight.expanded(limit)
            .map(u -> u / most.getAsDouble())
            .orElse(Double.POSITIVE_INFINITY);
  }

  /** The limits of a night that miss the wanted U; empty for a night that is good enough. */
  List<LimitForecast> missed(TriedNight night) {
    List<LimitForecast> missed = new ArrayList<>();
    for (LimitForecast limit : night.limits()) {
      OptionalDouble most = mostU.getOrDefault(TriedNight.key(limit), OptionalDouble.empty());
      boolean known = mostU.containsKey(TriedNight.key(limit));
      boolean wide =
          most.isPresent()
              && TriedNight.expanded(limit)
                  .filter(u -> u <= allowed(limit, most.getAsDouble()))
                  .isEmpty();
      if (known && (wide || !limit.isDecided())) {
        missed.add(limit);
      }
    }
    return missed;
  }
}
