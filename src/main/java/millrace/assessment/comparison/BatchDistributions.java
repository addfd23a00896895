// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.analysis.batch.BatchMeanAndSpread;
import millrace.analysis.batch.Capability;
import millrace.analysis.batch.IndividualsChart;
import millrace.analysis.batch.Interval;
import millrace.analysis.batch.Outliers;
import millrace.analysis.batch.ProportionInterval;
import millrace.assessment.comparison.BatchDistribution.Entry;
import millrace.assessment.comparison.BatchDistribution.Statistics;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Conformity;
import millrace.evidence.DecisionRule;
import millrace.evidence.Judgement;
import millrace.evidence.Limit;
import millrace.evidence.Measurand;
import millrace.evidence.Result;

/** Groups results by quantity, range and conditions, and computes the statistics of each group. */
final class BatchDistributions {
  /** Risk of a false outlier. */
  private static final double RISK = 0.05;

  /** One value in so many may be suspected, and no more than {@link #MOST_SUSPECTS}. */
  private static final int SUSPECT_OF = 10;

  private static final int MOST_SUSPECTS = 40;
  private static final int FEWEST_FOR_OUTLIERS = 8;

  private final double coverage;
  private final boolean oneUnit;
  private final Outliers.Criticals criticals = new Outliers.Criticals(RISK);
  private final ToleranceFactors factors;

  private BatchDistributions(double coverage, boolean oneUnit, ToleranceFactors factors) {
    this.coverage = coverage;
    this.oneUnit = oneUnit;
    this.factors = factors;
  }

  /**
   * The distributions of runs.
   *
   * @param factors those of tolerance intervals that are known already
   */
  static List<BatchDistribution> of(
      List<ComparedRun> runs, double coverage, ToleranceFactors factors) {
    boolean one = runs.stream().map(ComparedRun::unit).distinct().count() == 1;
    BatchDistributions distributions = new BatchDistributions(coverage, one, factors);
    Map<Measurand, List<Entry>> sorted = new LinkedHashMap<>();
    List<Placed> before = new ArrayList<>();
    for (ComparedRun run : runs) {
      for (int i = 0; i < run.results().size(); i++) {
        Result result = run.results().get(i);
        if (i >= before.size() || !before.get(i).isOf(result)) {
          Measurand what = Measurand.of(result);
          Placed now = new Placed(result, sorted.computeIfAbsent(what, w -> new ArrayList<>()));
          before.subList(Math.min(i, before.size()), Math.min(i + 1, before.size())).clear();
          before.add(i, now);
        }
        List<Entry> of = before.get(i).entries();
        if (of.isEmpty() || of.get(of.size() - 1).run().id() != run.id()) {
          of.add(distributions.entry(run, result));
        }
      }
    }
    return sorted.entrySet().stream()
        .parallel()
        .map(e -> distributions.distribution(e.getKey(), e.getValue()))
        .toList();
  }

  /**
   * Where the result at a place of the run before belongs: runs of one sequence have the same
   * results at the same places, so most need not be looked up.
   */
  private record Placed(Result result, List<Entry> entries) {
    /** Whether another result is of the same measurand, as far as that is plain to see. */
    boolean isOf(Result other) {
      return other.quantity() == result.quantity()
          && other.range().equals(result.range())
          && (result.judgement().isPresent() ? isJudgedAlike(other) : isAtTheSame(other));
    }

    private boolean isJudgedAlike(Result other) {
      return other.judgement().isPresent()
          && other.at().words().equals(result.at().words())
          && other.judgement().get().when().equals(result.judgement().orElseThrow().when());
    }

    private boolean isAtTheSame(Result other) {
      return other.judgement().isEmpty() && other.at().equals(result.at());
    }
  }

  /** The distributions with limits; all of them if none has a limit. */
  static List<BatchDistribution> limitedIfAny(List<BatchDistribution> all) {
    List<BatchDistribution> limited = all.stream().filter(BatchDistribution::judged).toList();
    return limited.isEmpty() ? all : limited;
  }

  private Entry entry(ComparedRun run, Result result) {
    OptionalDouble value =
        result.outcome() instanceof ComputationOutcome.Value v
            ? OptionalDouble.of(v.value())
            : OptionalDouble.empty();
    return new Entry(run, result, value, run.first() || oneUnit);
  }

  private BatchDistribution distribution(Measurand what, List<Entry> entries) {
    List<String> notes = new ArrayList<>();
    Set<Limit> limits = new HashSet<>();
    entries.forEach(e -> e.result().judgement().map(Judgement::limit).ifPresent(limits::add));
    if (limits.size() > 1) {
      notes.add("judged by different limits, so no capability is computed");
    }
    Optional<Limit> limit = limits.size() == 1 ? limits.stream().findFirst() : Optional.empty();
    long open = entries.stream().filter(e -> e.counts() && e.value().isEmpty()).count();
    if (open > 0) {
      notes.add("%s results are bounds or were not computed; they are in no mean".formatted(open));
    }
    List<Entry> counting =
        entries.stream().filter(e -> e.counts() && e.value().isPresent()).toList();
    return new BatchDistribution(
        what,
        entries,
        counting,
        limit,
        limit.flatMap(l -> guarded(l, entries)),
        statistics(entries, counting, limit),
        notes);
  }

  /** The limits for production: T less r U, methods.md 7.2. */
  private static Optional<Limit> guarded(Limit limit, List<Entry> entries) {
    double r =
        entries.stream()
            .flatMap(e -> e.result().judgement().stream())
            .filter(j -> j.rule().kind() != DecisionRule.Kind.SIMPLE)
            .mapToDouble(j -> j.rule().guardFactor())
            .max()
            .orElse(0);
    double u =
        entries.stream()
            .map(e -> e.result().outcome())
            .filter(ComputationOutcome.Value.class::isInstance)
            .flatMap(o -> ((ComputationOutcome.Value) o).uncertainty().stream())
            .mapToDouble(ComputationOutcome.Uncertainty::expanded)
            .max()
            .orElse(0);
    double w = r * u;
    return w == 0 ? Optional.empty() : limit.narrowed(w);
  }

  private Optional<Statistics> statistics(
      List<Entry> entries, List<Entry> counting, Optional<Limit> limit) {
    if (counting.isEmpty()) {
      return Optional.empty();
    }
    double[] values = counting.stream().mapToDouble(e -> e.value().orElseThrow()).toArray();
    BatchMeanAndSpread spread = BatchMeanAndSpread.of(values);
    return Optional.of(
        new Statistics(
            spread,
            tolerance(spread),
            limit.filter(l -> !oneUnit).flatMap(l -> Capability.of(values, l, coverage)),
            within(entries),
            values.length > 1 ? Optional.of(IndividualsChart.of(values)) : Optional.empty(),
            outliers(values).stream().map(i -> counting.get(i).run().run().id()).toList()));
  }

  private Optional<Interval> tolerance(BatchMeanAndSpread spread) {
    if (spread.n() < ToleranceFactors.FEWEST || spread.sd() == 0) {
      return Optional.empty();
    }
    double half = spread.sd() * factors.of(spread.n());
    return Optional.of(new Interval(spread.mean() - half, spread.mean() + half));
  }

  private Optional<ProportionInterval> within(List<Entry> entries) {
    List<Conformity> judged =
        entries.stream()
            .filter(Entry::counts)
            .flatMap(e -> e.result().judgement().stream())
            .map(Judgement::conformity)
            .filter(Objects::nonNull)
            .toList();
    int met =
        (int)
            judged.stream()
                .filter(c -> c == Conformity.PASS || c == Conformity.CONDITIONAL_PASS)
                .count();
    return judged.isEmpty()
        ? Optional.empty()
        : Optional.of(ProportionInterval.of(met, judged.size(), coverage));
  }

  private List<Integer> outliers(double[] values) {
    if (values.length < FEWEST_FOR_OUTLIERS) {
      return List.of();
    }
    int most = Math.min(MOST_SUSPECTS, 1 + values.length / SUSPECT_OF);
    return Outliers.of(values, most, criticals).places();
  }
}
