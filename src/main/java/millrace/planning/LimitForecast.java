// SPDX-License-Identifier: Apache-2.0
package millrace.planning;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.bench.BenchFile;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ConditionBox;
import millrace.evidence.Conformity;
import millrace.evidence.Judgement;
import millrace.evidence.Result;
import millrace.quantity.ClosedInterval;
import millrace.quantity.NumberText;

/**
 * The expected result of a run for one limit (methods.md 12): the value where the limit is closest
 * to being exceeded, its U in this run, and the largest component of U.
 *
 * @param result the judged result of the computed run
 * @param answer whether the run decides the limit, provided that the unit is as expected
 * @param largest the largest component of U, with the certificate behind it; empty without U
 */
public record LimitForecast(Result result, Answer answer, Optional<Share> largest) {
  /** Whether a run decides a limit, provided that the unit is as expected. */
  public enum Answer {
    /** A pass, however the readings scatter within U. */
    PASS("would pass"),
    /** A fail, however the readings scatter within U. */
    FAIL("would fail"),
    /** U is too large for the distance between the expected value and the limit. */
    TOO_WIDE("U too large"),
    /** A quantity is not measured or not known. */
    NOT_KNOWN("not evaluated");

    private final String text;

    Answer(String text) {
      this.text = text;
    }

    /**
     * The answer in words.
     *
     * @return such as {@code U too large}
     */
    public String text() {
      return text;
    }
  }

  /**
   * A component of an uncertainty.
   *
   * @param component its name in the budget
   * @param share its share of the variance, 0 to 1
   * @param owner the instrument whose certificate or statement it comes from, with the number of
   *     the certificate; empty where it comes from no instrument
   */
  public record Share(String component, double share, Optional<String> owner) {}

  /**
   * Whether the limit is decided and needs no further measurement.
   *
   * @return true for a pass and a fail
   */
  public boolean isDecided() {
    return answer == Answer.PASS || answer == Answer.FAIL;
  }

  /**
   * Every limit of a computed run.
   *
   * @param results of the run
   * @param bench whose instruments they come from
   * @return what is not decided first, then by the ratio of tolerance to uncertainty
   */
  public static List<LimitForecast> of(List<Result> results, BenchFile bench) {
    return results.stream()
        .filter(r -> r.judgement().isPresent())
        .map(r -> of(r, r.judgement().get(), bench))
        .sorted(
            Comparator.comparing(LimitForecast::isDecided)
                .thenComparing(f -> f.answer() == Answer.PASS)
                .thenComparingDouble(LimitForecast::ratio))
        .toList();
  }

  private static LimitForecast of(Result result, Judgement judgement, BenchFile bench) {
    return new LimitForecast(result, answer(result, judgement), largest(result.budget(), bench));
  }

  private static Answer answer(Result result, Judgement judgement) {
    Conformity as = judgement.conformity();
    if (as == Conformity.NOT_EVALUATED) {
      return Answer.NOT_KNOWN;
    }
    boolean wide =
        withUncertainty(result)
                .filter(v -> v.uncertainty().orElseThrow().expanded() > most(v, judgement))
                .isPresent()
            || as == Conformity.CONDITIONAL_PASS
            || as == Conformity.CONDITIONAL_FAIL;
    return wide ? Answer.TOO_WIDE : as == Conformity.PASS ? Answer.PASS : Answer.FAIL;
  }

  /** The largest U that decides: the distance to the nearer limit divided by 1 + r. */
  private static double most(ComputationOutcome.Value value, Judgement judgement) {
    return Math.abs(judgement.limit().distanceInside(value.value()))
        / (1 + judgement.rule().guardFactor());
  }

  private static Optional<ComputationOutcome.Value> withUncertainty(Result result) {
    return result.outcome() instanceof ComputationOutcome.Value v && v.uncertainty().isPresent()
        ? Optional.of(v)
        : Optional.empty();
  }

  /**
   * The largest U with which the limit would be decided (methods.md 12).
   *
   * @return in the unit of the result; empty where there is no value with U
   */
  public Optional<Double> largestU() {
    return withUncertainty(result).map(v -> most(v, result.judgement().orElseThrow()));
  }

  /**
   * The U that the run reaches.
   *
   * @return in the unit of the result; empty where there is no value with U
   */
  public Optional<Double> expandedU() {
    return withUncertainty(result).map(v -> v.uncertainty().orElseThrow().expanded());
  }

  /**
   * What is left of U without its largest component.
   *
   * @return in the unit of the result; empty where there is no U
   */
  public Optional<Double> withoutLargest() {
    return expandedU().flatMap(u -> largest.map(s -> u * Math.sqrt(Math.max(0, 1 - s.share()))));
  }

  /**
   * How large the part of the largest component in U may be, for the rest to leave the limit
   * decided.
   *
   * @return in the unit of the result; empty where the rest of U alone is too large, and where
   *     there is no U
   */
  public Optional<Double> mostOfLargest() {
    return withoutLargest()
        .flatMap(
            rest ->
                largestU()
                    .filter(most -> most > rest)
                    .map(most -> Math.sqrt(most * most - rest * rest)));
  }

  /**
   * Identifies the limit among those of its datasheet.
   *
   * @return quantity, range, limit and conditions, in words that the logbook can store with a run
   */
  public String key() {
    Judgement judgement = result.judgement().orElseThrow();
    List<String> parts = new ArrayList<>(List.of(result.quantity().key()));
    result.range().ifPresent(parts::add);
    parts.add("from " + number(judgement.limit().lower()));
    parts.add("to " + number(judgement.limit().upper()));
    ConditionBox when = judgement.when();
    span("temperature", when.temperatureDegC()).ifPresent(parts::add);
    span("voltage", when.terminalVoltageV()).ifPresent(parts::add);
    span("supply", when.supplyV()).ifPresent(parts::add);
    span("time on", when.timeOnS()).ifPresent(parts::add);
    return String.join(" ", parts);
  }

  private static String number(OptionalDouble end) {
    return end.isPresent() ? NumberText.print(end.getAsDouble()) : "open";
  }

  private static Optional<String> span(String of, Optional<ClosedInterval> span) {
    return span.map(
        s -> "%s %s to %s".formatted(of, NumberText.print(s.lower()), NumberText.print(s.upper())));
  }

  /**
   * The expected uncertainty.
   *
   * @return in the unit of the result; empty without a value
   */
  public Optional<ComputationOutcome.Uncertainty> uncertainty() {
    return withUncertainty(result).flatMap(ComputationOutcome.Value::uncertainty);
  }

  /**
   * Advice on how to reduce the largest component of U.
   *
   * @return in words; empty where nothing is known
   */
  public Optional<String> remedy() {
    return largest.flatMap(share -> Remedy.of(share.component()));
  }

  private double ratio() {
    return result.judgement().orElseThrow().testUncertaintyRatio().orElse(Double.POSITIVE_INFINITY);
  }

  /** Components of one name count as one, whatever point or stay they come from. */
  private static Optional<Share> largest(List<BudgetComponent> budget, BenchFile bench) {
    Map<String, Double> parts = new LinkedHashMap<>();
    double all = 0;
    for (BudgetComponent c : budget) {
      double variance = c.contribution() * c.contribution();
      parts.merge(c.component(), variance, Double::sum);
      all += variance;
    }
    double total = all;
    return total > 0
        ? parts.entrySet().stream()
            .max(Map.Entry.comparingByValue())
            .map(e -> new Share(e.getKey(), e.getValue() / total, owner(e.getKey(), bench)))
        : Optional.empty();
  }

  private static Optional<String> owner(String component, BenchFile bench) {
    return bench.instruments().values().stream()
        .filter(e -> List.of(component.split("[ ,]+")).contains(e.name()))
        .max(Comparator.comparingInt(e -> e.name().length()))
        .map(
            e ->
                e.certificate()
                    .map(c -> "%s, certificate %s".formatted(e.name(), c.number()))
                    .orElse("%s, as its manual states".formatted(e.name())));
  }
}
