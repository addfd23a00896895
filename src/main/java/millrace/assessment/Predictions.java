// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.analysis.load.LoadSweepRequest.Reference;
import millrace.analysis.response.PredictionCondition;
import millrace.analysis.response.PromisedConditionBox;
import millrace.analysis.response.RangeResponse;
import millrace.analysis.response.ResponsePrediction;
import millrace.analysis.response.ResponseValidityDomain;
import millrace.analysis.uncertainty.Budget;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetLimit;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ConditionBox;
import millrace.evidence.ResultQuantity;
import millrace.quantity.ClosedInterval;

/**
 * Predictions of an assessed run at conditions that were not measured (methods.md 11). Immutable
 * and thread-safe.
 */
public final class Predictions {
  private static final int TEMPERATURES = 9;
  private static final int VOLTAGES = 7;

  private final Assessment assessment;
  private final boolean extrapolate;

  /**
   * Takes an assessment.
   *
   * @param assessment the assessment of a run
   * @param extrapolate true to predict outside the measured conditions too
   */
  public Predictions(Assessment assessment, boolean extrapolate) {
    this.assessment = assessment;
    this.extrapolate = extrapolate;
  }

  /**
   * A question.
   *
   * @param range the range
   * @param condition the condition
   */
  public record Asked(String range, PredictionCondition condition) {}

  /**
   * An answer.
   *
   * @param asked the question
   * @param prediction the value, or what would have to be measured
   * @param nominalA I_N, A; 0 where the range was not measured
   * @param uncertainty of the current, A; empty without a value or if it is not known
   * @param budget components of the uncertainty, A
   */
  public record Answer(
      Asked asked,
      ResponsePrediction prediction,
      double nominalA,
      Optional<ComputationOutcome.Uncertainty> uncertainty,
      List<BudgetComponent> budget) {
    /** Copies the list. */
    public Answer {
      budget = List.copyOf(budget);
    }
  }

  /**
   * Answers a question.
   *
   * @param asked the question
   * @return the answer; missing if the range was not measured
   */
  public Answer of(Asked asked) {
    Optional<RangeResponse> response = assessment.response().range(asked.range());
    if (response.isEmpty()) {
      String reason = assessment.response().whyNot(asked.range()).orElse("not measured");
      ResponsePrediction none = new ResponsePrediction.Missing(reason, List.of());
      return new Answer(asked, none, 0, Optional.empty(), List.of());
    }
    RangeResponse own = response.get();
    ResponsePrediction prediction =
        extrapolate ? own.extrapolated(asked.condition()) : own.at(asked.condition());
    if (prediction.value().isEmpty() || !own.uncertaintyKnown()) {
      return new Answer(asked, prediction, own.nominalA(), Optional.empty(), List.of());
    }
    Budget budget = Budget.of(prediction.value().get().currentA());
    return new Answer(
        asked,
        prediction,
        own.nominalA(),
        Optional.of(budget.uncertainty(assessment.basis().coverage())),
        budget.components());
  }

  /**
   * The ranges that were measured.
   *
   * @return their names, in the order of the run
   */
  public List<String> ranges() {
    return assessment.response().names();
  }

  /**
   * The condition at which a range is specified: its reference load, or a short if it has none; if
   * the range was measured at one voltage only, that voltage.
   *
   * @param range the range
   * @param degC temperature of the unit, degC
   * @return the condition
   */
  public PredictionCondition usual(String range, double degC) {
    Reference reference =
        assessment
            .basis()
            .datasheet()
            .flatMap(s -> s.range(range))
            .flatMap(Datasheet.Range::referenceLoadOhm)
            .map(Reference::atOhm)
            .orElse(Reference.SHORT);
    boolean given = !reference.isVoltage();
    return given
        ? PredictionCondition.atLoad(degC, reference.value())
        : PredictionCondition.atVoltage(degC, leastV(range));
  }

  /** A short, for which the least voltage counts; if only one voltage was used, that one. */
  private double leastV(String range) {
    return assessment
        .response()
        .range(range)
        .map(RangeResponse::domain)
        .filter(d -> !d.wanting(d.visitsDegC().get(0), 0).isEmpty())
        .map(d -> Math.max(0, d.voltageV().lower()))
        .orElse(0.0);
  }

  /**
   * The default temperature.
   *
   * @return T_ref, degC
   */
  public double referenceDegC() {
    return assessment.basis().referenceDegC();
  }

  /**
   * The conditions of a grid over the box of the limit on the current error, or over the measured
   * conditions if there is no limit.
   *
   * @param range the range
   * @return row by row in rising temperature, each in rising voltage
   */
  public List<Asked> grid(String range) {
    Optional<PromisedConditionBox> box = box(range);
    List<Asked> all = new ArrayList<>();
    if (box.isEmpty()) {
      all.add(new Asked(range, PredictionCondition.atVoltage(referenceDegC(), 0)));
    } else {
      for (double degC : steps(box.get().temperatureDegC(), TEMPERATURES)) {
        for (double volts : steps(box.get().voltageV(), VOLTAGES)) {
          all.add(new Asked(range, PredictionCondition.atVoltage(degC, volts)));
        }
      }
    }
    return all;
  }

  /**
   * The box of a range: the conditions of the widest limit on its current error. Conditions that
   * the limit does not name, and a range without a limit, take the measured conditions.
   *
   * @param range the range
   * @return the box; empty where the range was not measured
   */
  public Optional<PromisedConditionBox> box(String range) {
    return assessment.response().range(range).map(r -> box(range, r.domain()));
  }

  /**
   * The limit on the current error of a range with the widest span of temperatures.
   *
   * @param range the range
   * @return the limit; empty where none is stated
   */
  public Optional<DatasheetLimit> limit(String range) {
    return assessment.basis().datasheet().stream()
        .flatMap(s -> s.limits().stream())
        .filter(l -> l.quantity() == ResultQuantity.CURRENT_ERROR)
        .filter(l -> l.isFor(Optional.of(range)))
        .max((a, b) -> Double.compare(width(a), width(b)));
  }

  private PromisedConditionBox box(String range, ResponseValidityDomain domain) {
    Optional<DatasheetLimit> limit = limit(range);
    ClosedInterval degC = domain.shownDegC();
    ClosedInterval volts =
        new ClosedInterval(Math.max(0, domain.voltageV().lower()), lowestEdge(domain));
    if (limit.isEmpty()) {
      return new PromisedConditionBox(degC, volts, Optional.empty());
    }
    ClosedInterval reference = new ClosedInterval(referenceDegC(), referenceDegC());
    ConditionBox when = limit.get().when();
    return new PromisedConditionBox(
        when.temperatureDegC().orElse(reference),
        when.terminalVoltageV().orElse(volts),
        Optional.empty());
  }

  private static double lowestEdge(ResponseValidityDomain domain) {
    double lowest = domain.voltageV().upper();
    for (double degC : domain.visitsDegC()) {
      lowest = Math.min(lowest, domain.edgeV(degC));
    }
    return Math.max(lowest, Math.max(0, domain.voltageV().lower()));
  }

  private static double width(DatasheetLimit limit) {
    return limit.when().temperatureDegC().map(i -> i.upper() - i.lower()).orElse(0.0);
  }

  private static double[] steps(ClosedInterval span, int count) {
    if (span.lower() == span.upper()) {
      return new double[] {span.lower()};
    }
    double[] steps = new double[count];
    for (int i = 0; i < count; i++) {
      double share = i / (count - 1.0);
      double value = span.lower() * (1 - share) + span.upper() * share;
      steps[i] = Math.round(value * 1e4) / 1e4;
    }
    return steps;
  }
}
