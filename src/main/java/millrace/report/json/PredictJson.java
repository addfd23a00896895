// SPDX-License-Identifier: Apache-2.0
package millrace.report.json;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.response.PredictionCondition;
import millrace.analysis.response.ResponsePrediction;
import millrace.assessment.Predictions;
import millrace.assessment.Predictions.Answer;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Version;
import millrace.logbook.RunSummary;

/** Document of {@code predict --json}. Every key is present, null if empty. */
public final class PredictJson {
  private static final JsonNodeFactory JSON = JsonNodeFactory.instance;

  private PredictJson() {}

  /**
   * The document.
   *
   * @param run the run that the predictions use
   * @param answers the predictions, in order
   * @return the document
   */
  public static ObjectNode of(RunSummary run, List<Answer> answers) {
    ObjectNode document = JSON.objectNode();
    document.put("millrace", Version.CURRENT);
    document.put("run", run.id());
    document.put("run_uuid", run.uuid().toString());
    document.put("unit", run.start().unit());
    document.put("origin", run.start().origin().text());
    ArrayNode all = document.putArray("predictions");
    answers.forEach(a -> all.add(one(a)));
    return document;
  }

  private static ObjectNode one(Answer answer) {
    Optional<ResponsePrediction.Value> value = answer.prediction().value();
    ObjectNode node = JSON.objectNode();
    node.put("range", answer.asked().range());
    node.set("at", at(answer.asked()));
    node.put("value", value.map(v -> v.currentA().value()).orElse(null));
    node.put("unit", "A");
    node.put("error_ppm", value.map(v -> v.errorPpm().value()).orElse(null));
    uncertainty(node, answer.uncertainty());
    node.put("extrapolated", value.map(ResponsePrediction.Value::extrapolated).orElse(false));
    node.put("missing", answer.prediction().missing().orElse(null));
    ArrayNode budget = node.putArray("budget");
    answer.budget().forEach(c -> budget.add(AnalysisJson.component(c)));
    return node;
  }

  private static ObjectNode at(Predictions.Asked asked) {
    PredictionCondition c = asked.condition();
    ObjectNode node = JSON.objectNode();
    node.put("temperature_degC", c.temperatureDegC());
    put(node, "load_ohm", c.loadOhm());
    put(node, "terminal_voltage_V", c.voltageV());
    put(node, "supply_V", c.supplyV());
    put(node, "time_s", c.timeS());
    return node;
  }

  private static void put(ObjectNode node, String key, OptionalDouble number) {
    if (number.isPresent()) {
      node.put(key, number.getAsDouble());
    }
  }

  private static void uncertainty(ObjectNode node, Optional<ComputationOutcome.Uncertainty> known) {
    node.put(
        "standard_uncertainty", known.map(ComputationOutcome.Uncertainty::standard).orElse(null));
    node.put(
        "expanded_uncertainty", known.map(ComputationOutcome.Uncertainty::expanded).orElse(null));
    if (known.isPresent()) {
      ObjectNode interval = node.putObject("interval");
      interval.put("lower", known.get().lower());
      interval.put("upper", known.get().upper());
      interval.put("coverage", known.get().coverage());
    } else {
      node.putNull("interval");
    }
    node.put(
        "coverage_factor", known.map(ComputationOutcome.Uncertainty::coverageFactor).orElse(null));
    OptionalDouble degrees =
        known
            .map(ComputationOutcome.Uncertainty::degreesOfFreedom)
            .orElseGet(OptionalDouble::empty);
    node.put("degrees_of_freedom", degrees.isPresent() ? (Double) degrees.getAsDouble() : null);
  }
}
