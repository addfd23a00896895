// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Conformity;
import millrace.evidence.Result;
import millrace.quantity.NumberText;

/**
 * Distance of a judged result from the nearer limit, in units of its expanded uncertainty U. This
 * distance decides, since an interval that reaches a limit allows no decision. Stateless,
 * thread-safe.
 */
public final class LimitMargin {
  private static final List<Conformity> ORDER = OverallVerdict.order();

  private LimitMargin() {}

  /**
   * The distance.
   *
   * @param r a result
   * @return distance in U, below 0 beyond the limit; empty if there is no value or no U
   */
  public static OptionalDouble inU(Result r) {
    if (r.judgement().isPresent()
        && r.outcome() instanceof ComputationOutcome.Value v
        && v.uncertainty().isPresent()) {
      double distance = r.judgement().get().limit().distanceInside(v.value());
      double u = v.uncertainty().get().expanded();
      return u > 0 ? OptionalDouble.of(distance / u) : OptionalDouble.empty();
    }
    return OptionalDouble.empty();
  }

  /**
   * The distance in words.
   *
   * @param r a result
   * @return words such as {@code 3.2 U inside}; empty text if the distance is unknown
   */
  public static String inWords(Result r) {
    OptionalDouble distance = inU(r);
    if (distance.isEmpty()) {
      return "";
    }
    double u = distance.getAsDouble();
    return NumberText.significant(Math.abs(u), 2) + (u < 0 ? " U beyond" : " U inside");
  }

  /**
   * Order of judged results: the worst first; results of the same conformity by distance from the
   * limit, the nearest first.
   *
   * @return an order of results that all have a limit
   */
  public static Comparator<Result> worstFirst() {
    return Comparator.comparingInt(LimitMargin::rank).thenComparingDouble(LimitMargin::known);
  }

  /**
   * The same order of many, which takes each distance once.
   *
   * @param all what has results, each with a limit
   * @param resultOf the result of each
   * @param <T> what has a result
   * @return all of it, the worst first; equal ones stay in their order
   */
  public static <T> List<T> worstFirst(List<T> all, Function<T, Result> resultOf) {
    return all.stream()
        .map(each -> Placed.of(each, resultOf.apply(each)))
        .sorted(Comparator.<Placed<T>>comparingInt(Placed::rank).thenComparingDouble(Placed::away))
        .map(Placed::of)
        .toList();
  }

  /**
   * What has a result, with its place in the order.
   *
   * @param <T> what has a result
   */
  private record Placed<T>(T of, int rank, double away) {
    static <T> Placed<T> of(T of, Result r) {
      return new Placed<>(of, LimitMargin.rank(r), known(r));
    }
  }

  /**
   * The first of those that {@link #worstFirst} puts first, which takes each distance once.
   *
   * @param all what has results; those without a limit do not count
   * @param resultOf the result of each
   * @param <T> what has a result
   * @return empty without one
   */
  public static <T> Optional<Result> worst(List<T> all, Function<T, Result> resultOf) {
    Optional<Result> worst = Optional.empty();
    int rank = Integer.MAX_VALUE;
    double distance = Double.POSITIVE_INFINITY;
    for (T each : all) {
      Result r = resultOf.apply(each);
      int its = r.judgement().isPresent() ? rank(r) : Integer.MAX_VALUE;
      if (its <= rank && its < Integer.MAX_VALUE) {
        double away = known(r);
        if (its < rank || worst.isEmpty() || Double.compare(away, distance) < 0) {
          worst = Optional.of(r);
          rank = its;
          distance = away;
        }
      }
    }
    return worst;
  }

  private static int rank(Result r) {
    return ORDER.indexOf(r.judgement().orElseThrow().conformity());
  }

  private static double known(Result r) {
    return inU(r)
        .orElse(
            r.outcome() instanceof ComputationOutcome.Value
                ? Double.POSITIVE_INFINITY
                : Double.NEGATIVE_INFINITY);
  }
}
