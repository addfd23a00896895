// SPDX-License-Identifier: Apache-2.0
package millrace.report.json;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import millrace.analysis.causes.Cause;
import millrace.analysis.causes.FurtherMeasurement;
import millrace.evidence.Version;
import millrace.planning.cause.CausePlan;

/** Document of {@code plan cause --json}. Every key is present, null if empty. */
public final class CausePlanJson {
  private static final JsonNodeFactory JSON = JsonNodeFactory.instance;

  private CausePlanJson() {}

  /**
   * The document.
   *
   * @param plan the plan
   * @param runs numbers of the runs that it uses
   * @param unit serial number of the unit
   * @param simulated whether its runs are simulated
   * @return the document
   */
  public static ObjectNode of(CausePlan plan, List<Long> runs, String unit, boolean simulated) {
    ObjectNode document = JSON.objectNode();
    document.put("millrace", Version.CURRENT);
    ArrayNode numbers = document.putArray("runs");
    runs.forEach(numbers::add);
    document.put("unit", unit);
    document.put("origin", simulated ? "simulated" : "bench");
    document.put("identified", plan.identified().map(Cause::name).orElse(null));
    ArrayNode rivals = document.putArray("not_separated");
    plan.rivals().forEach(rivals::add);
    CausesJson.write(document.putArray("causes"), plan.diagnosis());
    ArrayNode notes = document.putArray("notes");
    plan.diagnosis().notes().forEach(notes::add);
    document.set("plan", plan.chosen().map(CausePlanJson::chosen).orElse(null));
    ArrayNode alone = document.putArray("alone");
    for (CausePlan.Alone each : plan.alone()) {
      ObjectNode node = alone.addObject();
      node.put("measurement", each.words());
      node.put("duration_s", each.seconds());
      node.put("pairs_separated", each.pairs());
      node.put("pairs", each.of());
    }
    ArrayNode beyond = document.putArray("beyond_this_bench");
    plan.beyond().forEach(beyond::add);
    return document;
  }

  private static ObjectNode chosen(CausePlan.Chosen chosen) {
    ObjectNode node = JSON.objectNode();
    ArrayNode measurements = node.putArray("measurements");
    chosen.measurements().stream().map(FurtherMeasurement::words).forEach(measurements::add);
    node.put("duration_s", chosen.seconds());
    ObjectNode gain = node.putObject("gain");
    gain.put("cases", chosen.gain().drawn());
    gain.put("right_alone", chosen.gain().right());
    gain.put("probability_before", chosen.gain().before());
    gain.put("probability_after", chosen.gain().after());
    ArrayNode together = node.putArray("left_together");
    chosen.together().forEach(together::add);
    node.put("sequence", chosen.sequence());
    return node;
  }
}
