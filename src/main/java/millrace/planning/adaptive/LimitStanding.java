// SPDX-License-Identifier: Apache-2.0
package millrace.planning.adaptive;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.evidence.BudgetComponent;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.planning.LimitForecast;
import millrace.quantity.NumberText;

/**
 * The state of a limit while a run goes on.
 *
 * @param key identifies the limit
 * @param decided whether the limit is decided in every unit
 * @param mostU the largest U that decides, in the unit of the limit; empty if a bound decides it
 * @param worst the result in the unit with the largest U; empty if the limit has no result yet
 */
record LimitStanding(
    String key, boolean decided, OptionalDouble mostU, Optional<LimitForecast> worst) {
  private static final int DIGITS = 2;

  /**
   * Whether a measurement in a range adds knowledge of the limit; a limit without a range takes
   * all.
   */
  boolean isAbout(String range) {
    if (worst.isEmpty()) {
      return true;
    }
    Result result = worst.get().result();
    boolean other =
        range.equals(result.at().all().get(ResultConditionKey.OTHER_RANGE))
            || result.range().isEmpty();
    return other || result.range().get().equals(range);
  }

  /** The present U divided by the largest U that decides; empty where one of them is not known. */
  OptionalDouble share() {
    Optional<Double> u = worst.flatMap(LimitForecast::expandedU);
    return u.isPresent() && mostU.isPresent() && mostU.getAsDouble() > 0
        ? OptionalDouble.of(u.get() / mostU.getAsDouble())
        : OptionalDouble.empty();
  }

  /** The share of the variance that more points reduce, 0 to 1. */
  double pointShare() {
    List<BudgetComponent> budget = worst.map(w -> w.result().budget()).orElse(List.of());
    double all = 0;
    double points = 0;
    for (BudgetComponent c : budget) {
      double variance = c.contribution() * c.contribution();
      all += variance;
      points += c.group().equals(ErrorSource.POINT) ? variance : 0;
    }
    return all > 0 ? points / all : 0;
  }

  /** The present U and the largest U that decides, as far as both are known. */
  String inWords() {
    if (worst.isEmpty()) {
      return key + ": not measured";
    }
    Result result = worst.get().result();
    String what = result.quantity().inWords() + result.range().map(r -> " of " + r).orElse("");
    Optional<Double> u = worst.get().expandedU();
    if (!decided && share().orElse(Double.POSITIVE_INFINITY) <= 1) {
      return what + ": U is small enough, but rests on what is not measured yet";
    }
    return u.isPresent() && mostU.isPresent()
        ? "%s: U is %s %s, %s decide it"
            .formatted(
                what,
                NumberText.significant(u.get(), DIGITS),
                result.quantity().unit(),
                NumberText.significant(mostU.getAsDouble(), DIGITS))
        : what + ": not evaluated";
  }
}
