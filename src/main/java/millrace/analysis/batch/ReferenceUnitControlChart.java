// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.conformity.FailedResult;
import millrace.analysis.uncertainty.CoverageFactors;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Conformity;
import millrace.evidence.Measurand;
import millrace.evidence.Result;
import millrace.quantity.NumberText;

/**
 * The control chart of a reference unit on one set-up (NIST/SEMATECH e-Handbook of Statistical
 * Methods, 6.3.2.2; methods.md 8): centre and sigma of each quantity from the individuals and
 * moving ranges of the first good checks; the limits are so wide that all quantities together
 * exceed them by chance in 0.27 % of checks: k = t((1 - 0.0027/m), 0.62 (n - 1)) sqrt(1 + 1/n), m
 * quantities, n checks. Limits of 3 sigma for each of twenty quantities would lock a good bench in
 * every tenth check.
 */
public final class ReferenceUnitControlChart {
  /** Checks before the limits of the chart apply. */
  public static final int FEWEST = 8;

  /** Checks behind the limits; later ones do not change them. */
  public static final int MOST = 25;

  private static final double CHANCE = 0.0027;

  /** Degrees of freedom that a mean moving range has per value (Wheeler, from memory). */
  private static final double EFFICIENCY = 0.62;

  private final List<Map<Measurand, Double>> good = new ArrayList<>();

  /** Adds the next check, in order of time; quantities beyond their limits are left out. */
  public void learn(List<Result> results) {
    if (good.size() < MOST && findings(results).isEmpty()) {
      good.add(values(results));
    }
  }

  public int learnt() {
    return good.size();
  }

  /**
   * The findings of a check, by the limits of the datasheet and, after enough checks, of the chart.
   */
  public List<String> findings(List<Result> results) {
    List<String> findings = new ArrayList<>();
    FailedResult.among(results)
        .forEach(s -> findings.add(words(s.result()) + ": outside its limit"));
    Conformity together = Result.together(results).orElse(Conformity.NOT_EVALUATED);
    if (findings.isEmpty() && together == Conformity.NOT_EVALUATED) {
      findings.add("a limit was not evaluated, so the check says nothing");
    }
    if (good.size() >= FEWEST) {
      values(results).forEach((what, value) -> beyond(what, value).ifPresent(findings::add));
    }
    return findings;
  }

  /** The range that the chart allows for a quantity. */
  private record Allowed(double centre, double reach) {
    double share(double value) {
      double away = Math.abs(value - centre);
      return reach > 0 ? away / reach : away > 0 ? Double.POSITIVE_INFINITY : 0;
    }
  }

  private Optional<Allowed> allowed(Measurand what) {
    double[] before =
        good.stream()
            .map(m -> Optional.ofNullable(m.get(what)))
            .flatMap(Optional::stream)
            .mapToDouble(Double::doubleValue)
            .toArray();
    return limits(before, good.isEmpty() ? 1 : good.get(0).size())
        .map(i -> new Allowed((i.lower() + i.upper()) / 2, (i.upper() - i.lower()) / 2));
  }

  /**
   * The limits of one quantity (methods.md 8.3).
   *
   * @param good its values in the first good checks, in the order of time
   * @param quantities how many quantities are charted side by side, 1 or more
   * @return in the unit of the values; empty with fewer than eight
   */
  public static Optional<Interval> limits(double[] good, int quantities) {
    if (good.length < FEWEST) {
      return Optional.empty();
    }
    IndividualsChart chart = IndividualsChart.of(good);
    double reach = factor(good.length, quantities) * chart.sigma();
    return Optional.of(new Interval(chart.centre() - reach, chart.centre() + reach));
  }

  /**
   * The largest distance of a quantity from its centre, divided by the allowed distance; empty
   * until the limits of the chart apply, and where none is finite.
   */
  public OptionalDouble largestShare(List<Result> results) {
    return values(results).entrySet().stream()
        .flatMap(e -> allowed(e.getKey()).stream().map(a -> a.share(e.getValue())))
        .mapToDouble(Double::doubleValue)
        .filter(Double::isFinite)
        .max();
  }

  private Optional<String> beyond(Measurand what, double value) {
    return allowed(what)
        .filter(a -> !(Math.abs(value - a.centre()) <= a.reach()))
        .map(
            a ->
                "%s: %s %s, its chart allows %s to %s"
                    .formatted(
                        words(what),
                        NumberText.significant(value, 6),
                        what.quantity().unit(),
                        NumberText.significant(a.centre() - a.reach(), 6),
                        NumberText.significant(a.centre() + a.reach(), 6)));
  }

  /** The distance of the limits from the centre, in sigma. */
  public static double factor(int checks, int quantities) {
    double nu = Math.max(1, EFFICIENCY * (checks - 1));
    double t = CoverageFactors.factor(1 - CHANCE / Math.max(1, quantities), OptionalDouble.of(nu));
    return t * Math.sqrt(1 + 1.0 / checks);
  }

  private static Map<Measurand, Double> values(List<Result> results) {
    Map<Measurand, Double> values = new LinkedHashMap<>();
    for (Result r : results) {
      if (r.judgement().isPresent() && r.outcome() instanceof ComputationOutcome.Value v) {
        values.putIfAbsent(Measurand.of(r), v.value());
      }
    }
    return values;
  }

  private static String words(Result result) {
    return words(Measurand.of(result));
  }

  private static String words(Measurand m) {
    return m.quantity().inWords() + m.range().map(r -> " of " + r).orElse("");
  }
}
