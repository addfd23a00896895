// SPDX-License-Identifier: Apache-2.0
package millrace.planning.adaptive;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import millrace.evidence.BoxJudgementBasis;
import millrace.evidence.Limit;
import millrace.planning.LimitForecast;

/**
 * The U at which each limit counts as decided while a run goes on (methods.md 12). All values are
 * fixed before the run, from its forecast: the stopping depends on U alone and not on the measured
 * values. A stated interval therefore keeps its coverage probability although the results are
 * examined many times. Immutable, thread-safe.
 *
 * @param mostU largest U by limit ({@link LimitForecast#key}), in its unit; empty for a limit that
 *     a bound decides
 */
public record StoppingRule(Map<String, OptionalDouble> mostU) {
  /** A test uncertainty ratio of 4 (common practice, no source). */
  private static final double OF_TOLERANCE = 0.25;

  /**
   * The scatter of the readings makes U differ by this ratio when the same run is computed twice.
   */
  private static final double NO_WORSE = 1.02;

  /** Copies the map; keys in order. */
  public StoppingRule {
    mostU = Collections.unmodifiableMap(new TreeMap<>(mostU));
  }

  /**
   * Makes the rule from a run that is computed before it begins.
   *
   * @param whole the results of the whole planned sequence; limits without a result are left out
   * @return U of at most |expected value - nearer limit|/(1 + r) and at most a quarter of the
   *     tolerance, but never below the U that the whole plan reaches
   */
  public static StoppingRule of(List<LimitForecast> whole) {
    Map<String, OptionalDouble> mostU = new TreeMap<>();
    for (LimitForecast limit : whole) {
      if (limit.answer() != LimitForecast.Answer.NOT_KNOWN) {
        mostU.put(limit.key(), most(limit));
      }
    }
    return new StoppingRule(mostU);
  }

  private static OptionalDouble most(LimitForecast limit) {
    Optional<Double> reached = limit.expandedU();
    Optional<Double> decides = limit.largestU();
    if (reached.isEmpty() || decides.isEmpty()) {
      return OptionalDouble.empty();
    }
    boolean beyond = limit.answer() == LimitForecast.Answer.FAIL;
    double wanted = beyond ? decides.get() : Math.min(decides.get(), share(limit));
    return OptionalDouble.of(Math.max(wanted, reached.get() * NO_WORSE));
  }

  private static double share(LimitForecast forecast) {
    Limit limit = forecast.result().judgement().orElseThrow().limit();
    return limit.twoSided()
        ? (limit.upper().getAsDouble() - limit.lower().getAsDouble()) / 2 * OF_TOLERANCE
        : Double.POSITIVE_INFINITY;
  }

  /**
   * The state of the limits in the units of a run.
   *
   * @param units the limits of each unit, by what is measured so far
   * @return one state for each limit of the rule: that of the unit with the largest U
   */
  List<LimitStanding> standing(List<List<LimitForecast>> units) {
    List<LimitStanding> all = new ArrayList<>();
    mostU.forEach((key, most) -> all.add(standing(key, most, units)));
    return all;
  }

  private LimitStanding standing(String key, OptionalDouble most, List<List<LimitForecast>> units) {
    Map<Integer, LimitForecast> found = new LinkedHashMap<>();
    for (int unit = 0; unit < units.size(); unit++) {
      for (LimitForecast limit : units.get(unit)) {
        if (limit.key().equals(key)) {
          found.put(unit, limit);
        }
      }
    }
    boolean decided =
        found.size() == units.size() && found.values().stream().allMatch(l -> decided(l, most));
    Optional<LimitForecast> worst =
        found.values().stream()
            .filter(l -> l.expandedU().isPresent())
            .max((a, b) -> Double.compare(a.expandedU().get(), b.expandedU().get()));
    return new LimitStanding(key, decided, most, worst.or(() -> first(found)));
  }

  private static Optional<LimitForecast> first(Map<Integer, LimitForecast> found) {
    return found.values().stream().findFirst();
  }

  /** A value borrowed from other units decides nothing: this run is made to measure it. */
  private static boolean decided(LimitForecast limit, OptionalDouble most) {
    BoxJudgementBasis.Basis basis = limit.result().judgement().orElseThrow().covers().basis();
    boolean own =
        basis == BoxJudgementBasis.Basis.MEASURED || basis == BoxJudgementBasis.Basis.PREDICTED;
    if (!own || limit.answer() == LimitForecast.Answer.NOT_KNOWN) {
      return false;
    }
    return limit.expandedU().isPresent()
        ? most.isPresent() && limit.expandedU().get() <= most.getAsDouble()
        : limit.isDecided();
  }
}
