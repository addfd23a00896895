// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.batch.BatchMeanAndSpread;
import millrace.analysis.conformity.GlobalRisk;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ConditionBox;
import millrace.evidence.DecisionRule;
import millrace.evidence.Judgement;
import millrace.evidence.Judgement.Risk;
import millrace.evidence.Limit;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.logbook.BatchJudgedValue;

/**
 * The global risks of judged results, if the other units of the batch give the spread between units
 * (methods.md 7.1; JCGM 106:2012, 9.5).
 */
final class BatchRisks {
  /** Fewer units than this give no spread. */
  private static final int FEWEST = 10;

  /** What values of several units have in common. */
  private record Limited(ResultQuantity quantity, Optional<String> range, ConditionBox when) {}

  private final Map<Limited, List<BatchJudgedValue>> values = new LinkedHashMap<>();

  /**
   * The risks within a batch.
   *
   * @param batch what its other units were judged by; may be empty
   */
  BatchRisks(List<BatchJudgedValue> batch) {
    batch.forEach(
        v ->
            values
                .computeIfAbsent(
                    new Limited(v.quantity(), v.range(), v.when()), k -> new ArrayList<>())
                .add(v));
  }

  Result with(Result result) {
    return result.judgement().flatMap(j -> risk(result, j)).map(result::with).orElse(result);
  }

  private Optional<Judgement> risk(Result result, Judgement j) {
    List<BatchJudgedValue> others =
        values.getOrDefault(new Limited(result.quantity(), result.range(), j.when()), List.of());
    if (others.size() < FEWEST
        || !(result.outcome() instanceof ComputationOutcome.Value v)
        || v.uncertainty().filter(u -> u.standard() > 0).isEmpty()) {
      return Optional.empty();
    }
    ComputationOutcome.Uncertainty u = v.uncertainty().get();
    return batch(others, u.standard())
        .map(b -> GlobalRisk.of(b, j.limit(), acceptance(j, u.expanded())))
        .map(
            g ->
                j.with(
                    new Risk(
                        j.risk().specific(),
                        OptionalDouble.of(g.consumer()),
                        OptionalDouble.of(g.producer()))));
  }

  /** The spread of the units alone: the variance of the values less that of the measurements. */
  private static Optional<GlobalRisk.Batch> batch(List<BatchJudgedValue> others, double u) {
    BatchMeanAndSpread seen =
        BatchMeanAndSpread.of(others.stream().mapToDouble(BatchJudgedValue::value).toArray());
    double measured =
        others.stream()
            .mapToDouble(o -> o.standardUncertainty() * o.standardUncertainty())
            .average()
            .orElse(0);
    double own = seen.sd() * seen.sd() - measured;
    return own > 0
        ? Optional.of(new GlobalRisk.Batch(seen.mean(), Math.sqrt(own), u))
        : Optional.empty();
  }

  /** Whether the rule accepts: a pass; with four outcomes a conditional pass too. */
  private static Optional<Limit> acceptance(Judgement j, double expanded) {
    boolean guarded = j.rule().kind() == DecisionRule.Kind.GUARDED;
    return j.limit().narrowed(guarded ? j.rule().guardFactor() * expanded : 0);
  }
}
