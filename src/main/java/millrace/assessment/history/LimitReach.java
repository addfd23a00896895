// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.history;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.response.PredictionCondition;
import millrace.analysis.response.PromisedConditionBox;
import millrace.analysis.response.RangeResponse;
import millrace.analysis.response.WorstConditionOfBox;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.Assessment;
import millrace.assessment.Predictions;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetLimit;
import millrace.evidence.ConditionBox;
import millrace.evidence.Limit;
import millrace.evidence.ResultQuantity;
import millrace.quantity.ClosedInterval;

/**
 * What the conditions of a limit add to the current error at the reference condition, as the last
 * visit found it: a unit is nearest to its upper limit at one corner of the box, to its lower limit
 * at another (methods.md 13.2).
 *
 * @param limit the limit, ppm of I_N
 * @param when its conditions
 * @param toLower what the condition nearest to the lower limit adds, ppm
 * @param toUpper what the condition nearest to the upper limit adds, ppm
 * @param wanting what would have to be measured before the whole box is known; empty if it is
 */
record LimitReach(
    Limit limit, ConditionBox when, Estimate toLower, Estimate toUpper, List<String> wanting) {
  private static final double PPM = 1e6;

  /** The reach of every limit on the current of a range; none without the unit's response. */
  static List<LimitReach> of(Assessment assessment, String range) {
    Optional<Datasheet> sheet = assessment.basis().datasheet();
    Optional<RangeResponse> response = assessment.response().range(range);
    List<LimitReach> all = new ArrayList<>();
    if (sheet.isEmpty() || response.isEmpty() || !response.get().uncertaintyKnown()) {
      return all;
    }
    Predictions predictions = new Predictions(assessment, false);
    PredictionCondition reference = predictions.usual(range, predictions.referenceDegC());
    Optional<Estimate> there = response.get().at(reference).value().map(v -> v.errorPpm());
    for (DatasheetLimit stated : sheet.get().limits()) {
      boolean current =
          stated.quantity() == ResultQuantity.CURRENT_ERROR
              || stated.quantity() == ResultQuantity.CURRENT;
      if (there.isPresent() && current && stated.isFor(Optional.of(range))) {
        all.add(reach(response.get(), stated, sheet.get(), there.get()));
      }
    }
    return all;
  }

  private static LimitReach reach(
      RangeResponse response, DatasheetLimit stated, Datasheet sheet, Estimate reference) {
    Limit ppm = inPpm(stated, response.nominalA());
    double degC = sheet.referenceTemperatureDegC();
    PromisedConditionBox box =
        new PromisedConditionBox(
            stated.when().temperatureDegC().orElseGet(() -> new ClosedInterval(degC, degC)),
            stated.when().terminalVoltageV().orElseGet(() -> new ClosedInterval(0, 0)),
            stated.when().supplyV());
    WorstConditionOfBox low =
        WorstConditionOfBox.of(response, new Limit(ppm.lower(), OptionalDouble.empty()), box);
    WorstConditionOfBox high =
        WorstConditionOfBox.of(response, new Limit(OptionalDouble.empty(), ppm.upper()), box);
    return new LimitReach(
        ppm, stated.when(), added(low, reference), added(high, reference), high.wanting());
  }

  private static Estimate added(WorstConditionOfBox worst, Estimate reference) {
    return worst
        .prediction()
        .map(p -> p.errorPpm().minus(reference))
        .orElseGet(() -> Estimate.exact(0));
  }

  private static Limit inPpm(DatasheetLimit stated, double nominalA) {
    Limit limit = stated.limit(nominalA);
    if (stated.quantity() == ResultQuantity.CURRENT_ERROR) {
      return limit;
    }
    OptionalDouble a = ppm(limit.lower(), nominalA);
    OptionalDouble b = ppm(limit.upper(), nominalA);
    return nominalA > 0 ? new Limit(a, b) : new Limit(b, a);
  }

  private static OptionalDouble ppm(OptionalDouble amperes, double nominalA) {
    return amperes.isPresent()
        ? OptionalDouble.of((amperes.getAsDouble() / nominalA - 1) * PPM)
        : amperes;
  }
}
