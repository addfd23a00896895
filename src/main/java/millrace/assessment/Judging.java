package millrace.assessment;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.analysis.conformity.Judge;
import millrace.datasheet.Datasheet;
import millrace.datasheet.StatedLimit;
import millrace.datasheet.StatedLimit.Interval;
import millrace.evidence.At;
import millrace.evidence.AtKey;
import millrace.evidence.Judgement;
import millrace.evidence.Limit;
import millrace.evidence.Outcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;

/**
 * Holds results against the datasheet's limits (measurement.md 7): a limit counts for each result
 * of its quantity and range whose conditions lie inside the limit's own; a limit that no result
 * answers is not evaluated, in words.
 */
final class Judging {
  private static final double SLACK_K = 0.6;
  private static final double SLACK_RATIO = 0.01;

  private final Datasheet sheet;
  private final List<Result> judged = new ArrayList<>();

  private Judging(Datasheet sheet) {
    this.sheet = sheet;
  }

  /**
   * Judges.
   *
   * @param wanted quantities whose limits must be answered; others are not a matter of this run
   */
  static List<Result> of(List<Result> results, Datasheet sheet, Set<ResultQuantity> wanted) {
    Judging judging = new Judging(sheet);
    results.forEach(r -> judging.judged.add(judging.judge(r)));
    sheet.limits().stream().filter(l -> wanted.contains(l.quantity())).forEach(judging::unanswered);
    return judging.judged.stream().map(Judge::remarked).toList();
  }

  private Result judge(Result result) {
    Result now = result;
    for (StatedLimit stated : sheet.limits()) {
      if (holds(stated, result)) {
        Limit limit = stated.limit(nominalA(result.range()));
        Judgement judgement = Judge.of(result.outcome(), limit, sheet.decision());
        if (now.judgement().isEmpty() || worse(judgement, now.judgement().get())) {
          now = now.with(judgement);
        }
      }
    }
    return now;
  }

  private static boolean worse(Judgement a, Judgement b) {
    return a.conformity().compareTo(b.conformity()) > 0;
  }

  private double nominalA(Optional<String> range) {
    return range.flatMap(sheet::range).map(Datasheet.Range::nominalA).orElse(1.0);
  }

  private boolean holds(StatedLimit limit, Result result) {
    return limit.quantity() == result.quantity()
        && limit.isFor(result.range())
        && inside(limit.temperatureDegC(), temperature(result), SLACK_K)
        && inside(limit.terminalVoltageV(), voltage(result), SLACK_RATIO)
        && inside(limit.supplyV(), result.at().number(AtKey.SUPPLY_V), SLACK_RATIO);
  }

  /** A result without a temperature of its own is one at T_ref. */
  private OptionalDouble temperature(Result result) {
    OptionalDouble own = result.at().number(AtKey.TEMPERATURE_DEGC);
    return own.isPresent() ? own : OptionalDouble.of(sheet.referenceTemperatureDegC());
  }

  private OptionalDouble voltage(Result result) {
    OptionalDouble own = result.at().number(AtKey.TERMINAL_VOLTAGE_V);
    OptionalDouble load = result.at().number(AtKey.LOAD_OHM);
    return own.isEmpty() && load.isPresent()
        ? OptionalDouble.of(load.getAsDouble() * Math.abs(nominalA(result.range())))
        : own;
  }

  private static boolean inside(Optional<Interval> interval, OptionalDouble value, double slack) {
    return interval.isEmpty()
        || value.isEmpty()
        || interval.get().contains(value.getAsDouble(), slack);
  }

  private void unanswered(StatedLimit limit) {
    for (String range : sheet.ranges().keySet()) {
      boolean meant = limit.isFor(Optional.of(range));
      boolean answered =
          judged.stream()
              .filter(r -> r.judgement().isPresent())
              .anyMatch(r -> r.range().equals(Optional.of(range)) && holds(limit, r));
      if (meant && !answered) {
        judged.add(missing(limit, range));
      }
    }
  }

  private Result missing(StatedLimit stated, String range) {
    Limit limit = stated.limit(nominalA(Optional.of(range)));
    Outcome none =
        new Outcome.Missing("the run has no measurement that tells it under these conditions", 0);
    return new Result(
            stated.quantity(),
            Optional.of(range),
            conditions(stated),
            none,
            Optional.empty(),
            List.of(),
            Optional.empty(),
            "none",
            List.of())
        .with(Judge.of(none, limit, sheet.decision()));
  }

  private static At conditions(StatedLimit limit) {
    At at = At.NONE;
    if (limit.temperatureDegC().isPresent()) {
      at = at.with(AtKey.TEMPERATURE_DEGC, limit.temperatureDegC().get().upper());
    }
    if (limit.terminalVoltageV().isPresent()) {
      at = at.with(AtKey.TERMINAL_VOLTAGE_V, limit.terminalVoltageV().get().upper());
    }
    return at;
  }
}
