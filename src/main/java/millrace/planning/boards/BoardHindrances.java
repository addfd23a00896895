// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import millrace.datasheet.Datasheet;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.DecisionRule.Risks;
import millrace.evidence.Limit;
import millrace.planning.LimitForecast;
import millrace.planning.boards.BoardPlan.Hindrance;
import millrace.planning.boards.BoardPlan.Trouble;

/** The limits that keep every test from meeting the risks, and what would change that. */
final class BoardHindrances {
  private static final int HALVINGS = 20;

  /** A smaller share of a risk is not named. */
  private static final double WORTH_NAMING = 0.05;

  private final Risks stated;
  private final BoardSpread spread;
  private final BoardRisks.Computed computed;
  private final Datasheet datasheet;

  BoardHindrances(
      Risks stated, BoardSpread spread, BoardRisks.Computed computed, Datasheet datasheet) {
    this.stated = stated;
    this.spread = spread;
    this.computed = computed;
    this.datasheet = datasheet;
  }

  /** The hindrances of the test with the most of everything; the worst first. */
  List<Hindrance> of(TriedBoardTest richest) {
    List<Hindrance> all = new ArrayList<>();
    BoardRisks risks = richest.risks();
    for (BoardRisks.LimitRisk each : risks.limits()) {
      if (!each.isKnown()) {
        Trouble trouble = each.spreadKnown() ? Trouble.NOT_EVALUATED : Trouble.NO_SPREAD;
        all.add(new Hindrance(each, trouble, Optional.empty()));
      }
    }
    if (risks.consumer() > stated.consumer()) {
      double sum = risks.limits().stream().mapToDouble(BoardRisks.LimitRisk::consumer).sum();
      risks.limits().stream()
          .filter(r -> r.consumer() > WORTH_NAMING * sum)
          .sorted(Comparator.comparingDouble(BoardRisks.LimitRisk::consumer).reversed())
          .map(r -> hindrance(r, Trouble.CONSUMER, stated.consumer() * r.consumer() / sum))
          .forEach(all::add);
    }
    if (risks.producer() > stated.producer()) {
      double sum = risks.limits().stream().mapToDouble(BoardRisks.LimitRisk::producer).sum();
      risks.limits().stream()
          .filter(r -> r.producer() > WORTH_NAMING * sum)
          .sorted(Comparator.comparingDouble(BoardRisks.LimitRisk::producer).reversed())
          .map(r -> hindrance(r, Trouble.PRODUCER, stated.producer() * r.producer() / sum))
          .forEach(all::add);
    }
    return all;
  }

  private Hindrance hindrance(BoardRisks.LimitRisk risk, Trouble trouble, double most) {
    return new Hindrance(risk, trouble, neededU(risk.limit(), trouble, most));
  }

  /** The largest U at which one limit adds no more than its share to a risk. */
  private Optional<Double> neededU(LimitForecast limit, Trouble trouble, double most) {
    if (!(limit.result().outcome() instanceof ComputationOutcome.Value v)
        || v.uncertainty().isEmpty()) {
      return Optional.empty();
    }
    LimitAcceptance acceptance =
        LimitAcceptance.of(limit, computed.whole(), datasheet.conditionalPassFails());
    double[] values = spread.of(limit).orElseThrow();
    double low = 0;
    double high = 1;
    for (int i = 0; i < HALVINGS; i++) {
      double middle = (low + high) / 2;
      boolean held = risk(acceptance.scaled(middle), limit, values, trouble) <= most;
      low = held ? middle : low;
      high = held ? high : middle;
    }
    double u = low * v.uncertainty().get().expanded();
    return u > 0 ? Optional.of(u) : Optional.empty();
  }

  private static double risk(
      LimitAcceptance acceptance, LimitForecast limit, double[] values, Trouble trouble) {
    DoubleUnaryOperator accepted = acceptance.byRule();
    Limit bounds = limit.result().judgement().orElseThrow().limit();
    double risk = 0;
    for (double value : values) {
      boolean met = bounds.contains(value);
      if (met == (trouble == Trouble.PRODUCER)) {
        double passes = accepted.applyAsDouble(value);
        risk += (met ? 1 - passes : passes) / values.length;
      }
    }
    return risk;
  }
}
