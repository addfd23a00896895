// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.tables;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import java.util.stream.IntStream;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome.Bound;
import millrace.evidence.ComputationOutcome.Missing;
import millrace.evidence.ComputationOutcome.Uncertainty;
import millrace.evidence.ComputationOutcome.Value;
import millrace.evidence.Judgement;
import millrace.evidence.Measurand;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import tech.tablesaw.api.Table;

/** The results of a run, and the components of their uncertainty. */
final class ResultTables {
  private ResultTables() {}

  /** A result and its place among those of the run. */
  private record Numbered(long number, Result result) {
    OptionalDouble value() {
      return result.outcome() instanceof Value v
          ? OptionalDouble.of(v.value())
          : result.outcome() instanceof Bound b
              ? OptionalDouble.of(b.value())
              : OptionalDouble.empty();
    }

    /** A value has no mark; a bound is above or below. */
    String kind() {
      return result.outcome() instanceof Bound b
          ? b.side().text()
          : result.outcome() instanceof Missing ? "missing" : "value";
    }

    Optional<Uncertainty> uncertainty() {
      return result.outcome() instanceof Value v ? v.uncertainty() : Optional.empty();
    }
  }

  private static List<Numbered> numbered(StoredRun run) {
    List<Result> results = run.results();
    return IntStream.range(0, results.size())
        .mapToObj(i -> new Numbered(i + 1, results.get(i)))
        .toList();
  }

  private static Function<Numbered, OptionalDouble> u(ToDoubleFunction<Uncertainty> of) {
    return n -> number(n.uncertainty().map(of::applyAsDouble));
  }

  private static Function<Numbered, OptionalDouble> judged(Function<Judgement, OptionalDouble> of) {
    return n -> n.result().judgement().map(of).orElse(OptionalDouble.empty());
  }

  private static OptionalDouble number(Optional<Double> value) {
    return value.isPresent() ? OptionalDouble.of(value.get()) : OptionalDouble.empty();
  }

  static void results(StoredRun run, Consumer<Table> taker) {
    Columns<Numbered> columns =
        new Columns<Numbered>()
            .whole("run", n -> run.number())
            .whole("result", Numbered::number)
            .word("unit", n -> run.unit())
            .word("origin", n -> run.origin())
            .word("quantity", n -> n.result().quantity().key())
            .text("range", n -> n.result().range());
    for (ResultConditionKey key : ResultConditionKey.values()) {
      if (key.isWord()) {
        columns.text(key.text(), n -> Optional.ofNullable(n.result().at().words().get(key)));
      } else {
        columns.maybe(key.text(), n -> n.result().at().number(key));
      }
    }
    columns
        .word("worst_point", n -> Measurand.of(n.result()).worst() ? "yes" : "no")
        .word("kind", Numbered::kind)
        .maybe("value", Numbered::value)
        .word("unit_of_measure", n -> n.result().quantity().unit())
        .whole("n", n -> (long) n.result().outcome().n())
        .maybe("standard_uncertainty", u(Uncertainty::standard))
        .maybe("expanded_uncertainty", u(Uncertainty::expanded))
        .maybe("lower", u(Uncertainty::lower))
        .maybe("upper", u(Uncertainty::upper))
        .maybe("coverage", u(Uncertainty::coverage))
        .maybe("coverage_factor", u(Uncertainty::coverageFactor))
        .maybe(
            "degrees_of_freedom",
            n -> n.uncertainty().map(Uncertainty::degreesOfFreedom).orElse(OptionalDouble.empty()))
        .maybe("lower_limit", judged(j -> j.limit().lower()))
        .maybe("upper_limit", judged(j -> j.limit().upper()))
        .text("conformity", n -> n.result().judgement().map(j -> j.conformity().text()))
        .maybe("probability_of_conformity", judged(Judgement::probability))
        .maybe("test_uncertainty_ratio", judged(Judgement::testUncertaintyRatio))
        .text(
            "missing",
            n ->
                n.result().outcome() instanceof Missing m
                    ? Optional.of(m.reason())
                    : Optional.empty());
    taker.accept(columns.table(numbered(run)));
  }

  /** A component with its result. */
  private record Part(long result, BudgetComponent component) {}

  static void components(StoredRun run, Consumer<Table> taker) {
    Columns<Part> columns =
        new Columns<Part>()
            .whole("run", p -> run.number())
            .whole("result", Part::result)
            .word("component", p -> p.component().component())
            .word("group", p -> p.component().group())
            .number("standard_uncertainty", p -> p.component().value())
            .word("unit_of_measure", p -> p.component().unit())
            .word("distribution", p -> p.component().distribution().text())
            .number("sensitivity", p -> p.component().sensitivity())
            .number("contribution", p -> p.component().contribution())
            .maybe("degrees_of_freedom", p -> p.component().degreesOfFreedom());
    List<Part> parts = new ArrayList<>();
    numbered(run)
        .forEach(n -> n.result().budget().forEach(c -> parts.add(new Part(n.number(), c))));
    taker.accept(columns.table(parts));
  }
}
