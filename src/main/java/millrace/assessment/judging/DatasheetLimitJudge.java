// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.judging;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import millrace.analysis.conformity.Judge;
import millrace.analysis.response.UnitResponse;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetLimit;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;

/**
 * Judges the results of a unit against the limits of its datasheet, each over its whole box of
 * conditions. The worst condition of the box is judged, measured or not. A limit with a box beyond
 * the known conditions is not evaluated and states what has to be measured (methods.md 7.1). Pure;
 * thread-safe.
 */
public final class DatasheetLimitJudge {
  private final Datasheet sheet;
  private final Optional<UnitResponse> unit;
  private final Map<String, MeasuredConditions> known;
  private final Optional<String> leftOut;
  private final List<Result> results;

  /**
   * The input of a judgement.
   *
   * @param sheet the datasheet
   * @param results the results, not judged
   * @param unit the unit's response; empty if no range has a temperature
   * @param known the conditions that each range was measured under
   * @param leftOut the reason that the rest of the run was not measured; empty if all was
   */
  public DatasheetLimitJudge(
      Datasheet sheet,
      List<Result> results,
      Optional<UnitResponse> unit,
      Map<String, MeasuredConditions> known,
      Optional<String> leftOut) {
    this.sheet = sheet;
    this.unit = unit;
    this.known = Map.copyOf(known);
    this.leftOut = leftOut;
    this.results = List.copyOf(results);
  }

  /**
   * Judges.
   *
   * @param wanted quantities with limits to be judged; this run does not concern others
   * @return the results in their order; the judged result of a limit replaces the only result that
   *     answers it, else it follows the results that do
   */
  public List<Result> judged(Set<ResultQuantity> wanted) {
    List<Result> all = new ArrayList<>(results);
    for (DatasheetLimit stated : sheet.limits()) {
      if (wanted.contains(stated.quantity())) {
        promises(stated).forEach(p -> place(judge(p), all));
      }
    }
    return all.stream().map(Judge::remarked).toList();
  }

  private Stream<RangeLimit> promises(DatasheetLimit stated) {
    return sheet.ranges().values().stream()
        .filter(r -> stated.isFor(Optional.of(r.name())))
        .map(r -> new RangeLimit(stated, r, sheet.referenceTemperatureDegC()));
  }

  /** A judged result replaces the only answer; it follows several answers. */
  private static void place(Result judged, List<Result> all) {
    int last = -1;
    int answers = 0;
    int same = -1;
    for (int i = 0; i < all.size(); i++) {
      Result r = all.get(i);
      if (r.quantity() == judged.quantity() && r.range().equals(judged.range())) {
        last = i;
        answers++;
        boolean itself = r.at().equals(judged.at()) && r.outcome().equals(judged.outcome());
        same = itself && r.judgement().isEmpty() ? i : same;
      }
    }
    if (answers == 1 && same >= 0) {
      all.set(same, judged);
    } else {
      all.add(last < 0 ? all.size() : last + 1, judged);
    }
  }

  private Result judge(RangeLimit promise) {
    MeasuredConditions there = known.get(promise.range().name());
    if (there == null) {
      return leftOut
          .map(why -> UnjudgedLimits.missing(promise, sheet, why))
          .orElseGet(() -> missing(promise, List.of("measure range " + promise.range().name())));
    }
    List<String> wanting = there.wanting(promise.box());
    if (!wanting.isEmpty()) {
      return missing(promise, wanting);
    }
    return switch (Kind.of(promise.stated().quantity())) {
      case CURRENT -> new CurrentLimitJudge(promise, sheet, unit, there).judged();
      case AT_A_TEMPERATURE ->
          new PerTemperatureLimitJudge(promise, sheet, answers(promise), unit, there).judged();
      case OVER_A_SPAN -> overSpan(promise, there);
    };
  }

  /** The kind of quantity that a limit applies to. */
  private enum Kind {
    /** The current itself, which the unit's model gives at any condition. */
    CURRENT,
    /** Something that is measured at one temperature. */
    AT_A_TEMPERATURE,
    /** Something that is measured over a span of temperatures. */
    OVER_A_SPAN;

    static Kind of(ResultQuantity quantity) {
      return switch (quantity) {
        case CURRENT, CURRENT_ERROR -> CURRENT;
        case TEMPCO,
            TEMPCO_BOX,
            TEMPCO_COLD,
            TEMPCO_HOT,
            TEMPCO_QUADRATIC_A,
            TEMPCO_QUADRATIC_B,
            TURNOVER,
            THERMAL_HYSTERESIS,
            TRACKING ->
            OVER_A_SPAN;
        default -> AT_A_TEMPERATURE;
      };
    }
  }

  /** The results of the quantity in this range. */
  private List<Result> answers(RangeLimit promise) {
    return results.stream()
        .filter(r -> r.quantity() == promise.stated().quantity())
        .filter(r -> r.range().equals(Optional.of(promise.range().name())))
        .toList();
  }

  /** A quantity over a span needs the span (methods.md 7.1). */
  private Result overSpan(RangeLimit promise, MeasuredConditions there) {
    List<Result> answers = answers(promise);
    List<LimitAnswerCandidate> computed =
        answers.stream()
            .filter(r -> !(r.outcome() instanceof ComputationOutcome.Missing))
            .map(LimitAnswerCandidate::measured)
            .toList();
    List<String> wanting =
        promise
            .box()
            .temperatureDegC()
            .map(t -> LimitTemperatures.wanting(t, there))
            .orElse(List.of());
    return wanting.isEmpty()
        ? LimitAnswerCandidate.worst(computed, promise, sheet)
            .map(c -> c.judged(promise, sheet))
            .orElseGet(() -> UnjudgedLimits.unanswered(promise, sheet, answers))
        : UnjudgedLimits.missing(promise, sheet, wanting, computed.size());
  }

  private Result missing(RangeLimit promise, List<String> wanting) {
    return UnjudgedLimits.missing(promise, sheet, wanting, 0);
  }

  /**
   * The bin of a unit that passed: the first bin with every line met by the measured value at the
   * worst condition of the line. A line that cannot be judged counts as not met.
   *
   * @return the name of the bin; empty if there are no bins or none takes the unit
   */
  public Optional<String> bin() {
    return sheet.bins().stream()
        .filter(b -> b.lines().stream().flatMap(this::promises).allMatch(this::held))
        .map(Datasheet.Bin::name)
        .findFirst();
  }

  private boolean held(RangeLimit line) {
    return judge(line).outcome() instanceof ComputationOutcome.Value v
        && line.limit().contains(v.value());
  }
}
