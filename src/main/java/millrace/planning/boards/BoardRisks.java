// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import millrace.planning.LimitForecast;

/**
 * The risks of a board test before a board is measured (JCGM 106:2012, 9.5, applied to all limits
 * of a board together; methods.md 12).
 *
 * @param consumer the largest probability that a board breaks a limit and is accepted
 * @param producer the largest probability that a board meets every limit and is rejected
 * @param limits each limit with its contribution
 * @param again by range, the share of boards that need another pass
 * @param rejected by range, the share of boards that fail there
 */
public record BoardRisks(
    double consumer,
    double producer,
    List<LimitRisk> limits,
    Map<String, Double> again,
    Map<String, Double> rejected) {
  /** Copies the collections; order kept. */
  public BoardRisks {
    limits = List.copyOf(limits);
    again = Collections.unmodifiableMap(new LinkedHashMap<>(again));
    rejected = Collections.unmodifiableMap(new LinkedHashMap<>(rejected));
  }

  /**
   * The contribution of one limit.
   *
   * @param limit the forecast of a test of all passes, for a board whose parts are nominal
   * @param consumer probability that the limit is broken and accepted
   * @param producer probability that the limit is met and rejected
   * @param again probability that the first pass does not settle the limit
   * @param spreadKnown whether the spread of boards is known for the limit; if not, the
   *     probabilities are 0 and have no meaning
   */
  public record LimitRisk(
      LimitForecast limit, double consumer, double producer, double again, boolean spreadKnown) {
    /**
     * Whether the risks of the limit are known.
     *
     * @return false where the spread of boards is not known, or the test does not evaluate the
     *     limit
     */
    public boolean isKnown() {
      return spreadKnown && limit.answer() != LimitForecast.Answer.NOT_KNOWN;
    }
  }

  /** The results of a test, computed several times with new scatter of its readings. */
  record Computed(List<List<LimitForecast>> first, List<List<LimitForecast>> whole) {}

  /**
   * Computes the risks of a test.
   *
   * @param spread the spread of boards
   * @param computed the results of the test after its first pass and after all passes
   * @param settled the rule by which a limit is settled early
   * @param strict whether a conditional pass fails a board
   * @return the risks
   */
  static BoardRisks of(
      BoardSpread spread, Computed computed, SettledLimits settled, boolean strict) {
    List<LimitForecast> limits = computed.whole().get(0);
    int n = spread.boards();
    double[] good = filled(n, 1);
    double[] passing = filled(n, 1);
    double[] badPassing = filled(n, 1);
    List<LimitRisk> risks = new ArrayList<>();
    Map<String, double[]> settling = new LinkedHashMap<>();
    Map<String, double[]> accepting = new LinkedHashMap<>();
    for (LimitForecast limit : limits) {
      Optional<double[]> values = spread.of(limit);
      if (values.isEmpty() || limit.answer() == LimitForecast.Answer.NOT_KNOWN) {
        risks.add(new LimitRisk(limit, 0, 0, 0, values.isPresent()));
        continue;
      }
      OneLimit one = new OneLimit(limit, values.get(), computed, settled, strict);
      risks.add(one.risk());
      String range = limit.result().range().orElse("");
      one.into(good, passing, badPassing);
      times(settling.computeIfAbsent(range, r -> filled(n, 1)), one.settled);
      times(accepting.computeIfAbsent(range, r -> filled(n, 1)), one.accepted);
    }
    double consumer = 0;
    double producer = 0;
    for (int i = 0; i < n; i++) {
      consumer += (1 - good[i]) * badPassing[i] / n;
      producer += good[i] * (1 - passing[i]) / n;
    }
    return new BoardRisks(consumer, producer, risks, missing(settling), missing(accepting));
  }

  private static Map<String, Double> missing(Map<String, double[]> shares) {
    Map<String, Double> missing = new LinkedHashMap<>();
    shares.forEach((range, s) -> missing.put(range, 1 - Arrays.stream(s).average().orElse(1)));
    return missing;
  }

  private static double[] filled(int n, double value) {
    double[] all = new double[n];
    Arrays.fill(all, value);
    return all;
  }

  private static void times(double[] product, double[] factor) {
    for (int i = 0; i < product.length; i++) {
      product[i] *= factor[i];
    }
  }

  /** One limit of every drawn board: whether it is met, and its probability of acceptance. */
  private static final class OneLimit {
    private final LimitForecast limit;
    private final boolean[] met;
    private final double[] accepted;
    private final double[] settled;
    private final double[] badAccepted;

    OneLimit(
        LimitForecast limit,
        double[] values,
        Computed computed,
        SettledLimits rule,
        boolean strict) {
      this.limit = limit;
      int limits = computed.whole().get(0).size();
      LimitAcceptance first = LimitAcceptance.of(limit, computed.first(), strict);
      LimitAcceptance whole = LimitAcceptance.of(limit, computed.whole(), strict);
      boolean again = rule.isLookedAtAgain(limit.result());
      DoubleUnaryOperator byRule = (again ? whole : first).byRule();
      DoubleUnaryOperator early = again ? first.surelyMet(rule.consumerOfALook()) : v -> 0;
      DoubleUnaryOperator broken =
          again ? first.surelyBroken(rule.producerOfALook(limits)) : v -> 0;
      met = new boolean[values.length];
      accepted = new double[values.length];
      settled = new double[values.length];
      badAccepted = new double[values.length];
      var bounds = limit.result().judgement().orElseThrow().limit();
      for (int i = 0; i < values.length; i++) {
        met[i] = bounds.contains(values[i]);
        double ruled = byRule.applyAsDouble(values[i]);
        double sure = early.applyAsDouble(values[i]);
        double out = broken.applyAsDouble(values[i]);
        accepted[i] = Math.max(0, ruled - out);
        badAccepted[i] = Math.min(1, ruled + sure);
        settled[i] = again ? Math.min(1, sure + out) : 1;
      }
    }

    /** The acceptance of a bad board is that of its broken limit with the smallest probability. */
    void into(double[] good, double[] passing, double[] badPassing) {
      for (int i = 0; i < met.length; i++) {
        if (!met[i]) {
          good[i] = 0;
          badPassing[i] = Math.min(badPassing[i], badAccepted[i]);
        }
        passing[i] *= accepted[i];
      }
    }

    LimitRisk risk() {
      double consumer = 0;
      double producer = 0;
      double open = 0;
      for (int i = 0; i < met.length; i++) {
        consumer += met[i] ? 0 : badAccepted[i] / met.length;
        producer += met[i] ? (1 - accepted[i]) / met.length : 0;
        open += (1 - settled[i]) / met.length;
      }
      return new LimitRisk(limit, consumer, producer, open, true);
    }
  }
}
