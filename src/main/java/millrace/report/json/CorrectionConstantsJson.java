// SPDX-License-Identifier: Apache-2.0
package millrace.report.json;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Optional;
import millrace.assessment.Assessment;
import millrace.assessment.correction.CorrectionResidualCheck;
import millrace.assessment.correction.UnitCorrectionConstants;
import millrace.assessment.correction.UnitRangeCorrection;
import millrace.evidence.ComputationOutcome;

/**
 * Correction constants of a unit, and their check by a later run, as JSON. Stateless, thread-safe.
 */
public final class CorrectionConstantsJson {
  private static final String FORMULA =
      "I = nominal_A * gain * (1 + 1e-6 * (temperature_linear * (T - T_ref) +"
          + " temperature_quadratic * (T - T_ref)^2)) - output_conductance * (V - V_ref)";

  private CorrectionConstantsJson() {}

  /**
   * The constants.
   *
   * @param assessment the run that the constants come from
   * @param corrections the constants
   * @param version version of Millrace
   * @return the document
   */
  public static ObjectNode of(
      Assessment assessment, UnitCorrectionConstants corrections, String version) {
    ObjectNode document = JsonNodeFactory.instance.objectNode();
    document.put("millrace", version);
    document.put("run_uuid", assessment.run().uuid().toString());
    document.put("unit", assessment.run().start().unit());
    document.put("origin", assessment.run().start().origin().text());
    document.put("formula", FORMULA);
    ArrayNode ranges = document.putArray("ranges");
    corrections.ranges().forEach(c -> range(ranges.addObject(), c, assessment.basis().coverage()));
    ObjectNode leftOut = document.putObject("left_out");
    corrections.leftOut().forEach(leftOut::put);
    return document;
  }

  private static void range(ObjectNode node, UnitRangeCorrection c, double coverage) {
    node.put("range", c.range());
    node.put("nominal_A", c.nominalA());
    c.constants(coverage).forEach(constant -> node.set(constant.name(), constant(constant)));
    ObjectNode holds = node.putObject("holds_within");
    holds.put("reference_degC", c.box().referenceDegC());
    holds.put("lowest_degC", c.box().lowestDegC());
    holds.put("highest_degC", c.box().highestDegC());
    holds.put("reference_V", c.box().referenceV());
    holds.put("highest_V", c.box().highestV());
    ObjectNode residual = node.putObject("residual");
    residual.put("unit", "ppm");
    residual.put("coverage", coverage);
    residual.put("error_before", c.residual().beforePpm());
    residual.put("misfit", c.residual().misfitPpm());
    residual.put("residual", c.residual().ppm());
    residual.put("residual_same_instruments", c.residual().sameInstrumentsPpm());
    notes(node, c.notes());
  }

  private static void notes(ObjectNode node, List<String> notes) {
    ArrayNode array = node.putArray("notes");
    notes.forEach(array::add);
  }

  private static ObjectNode constant(UnitRangeCorrection.Constant constant) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    ComputationOutcome outcome = constant.outcome();
    Optional<ComputationOutcome.Value> value =
        outcome instanceof ComputationOutcome.Value v ? Optional.of(v) : Optional.empty();
    Optional<ComputationOutcome.Uncertainty> u =
        value.flatMap(ComputationOutcome.Value::uncertainty);
    node.put("value", value.map(ComputationOutcome.Value::value).orElse(null));
    node.put("unit", constant.unit());
    node.put("standard_uncertainty", u.map(ComputationOutcome.Uncertainty::standard).orElse(null));
    node.put("expanded_uncertainty", u.map(ComputationOutcome.Uncertainty::expanded).orElse(null));
    node.put("coverage", u.map(ComputationOutcome.Uncertainty::coverage).orElse(null));
    boolean finite = u.filter(x -> x.degreesOfFreedom().isPresent()).isPresent();
    node.put(
        "degrees_of_freedom", finite ? (Double) u.get().degreesOfFreedom().getAsDouble() : null);
    node.put("missing", outcome instanceof ComputationOutcome.Missing m ? m.reason() : null);
    return node;
  }

  /**
   * The check of the constants by a later run.
   *
   * @param run number of that run
   * @param check the check
   * @return its JSON object
   */
  public static ObjectNode of(long run, CorrectionResidualCheck check) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("run", run);
    node.put("holds", check.holds());
    node.put("same_instruments", check.sameInstruments());
    node.put("points_outside", check.outside());
    ArrayNode ranges = node.putArray("ranges");
    for (CorrectionResidualCheck.Checked c : check.ranges()) {
      ObjectNode range = ranges.addObject();
      range.put("range", c.range());
      range.put("points", c.points());
      range.put("holds", c.holds());
      held(range.putObject("largest_before"), c.before());
      held(range.putObject("worst_after"), c.after());
    }
    return node;
  }

  private static void held(ObjectNode node, CorrectionResidualCheck.Held held) {
    node.put("temperature_degC", held.degC());
    node.put("terminal_voltage_V", held.volts());
    node.put("before_ppm", held.beforePpm());
    node.put("after_ppm", held.afterPpm());
    node.put("expected_within_ppm", held.expectedPpm());
  }
}
