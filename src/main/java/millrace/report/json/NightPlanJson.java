// SPDX-License-Identifier: Apache-2.0
package millrace.report.json;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import millrace.evidence.Version;
import millrace.planning.night.NightPlan;

/** Document of {@code plan night --json}. Every key is present, null if empty. */
public final class NightPlanJson {
  private static final JsonNodeFactory JSON = JsonNodeFactory.instance;

  private NightPlanJson() {}

  /**
   * The document.
   *
   * @param plan the plan
   * @param datasheet name of the datasheet
   * @param bench name of the bench
   * @param simulated whether the bench is simulated
   * @return the document
   */
  public static ObjectNode of(NightPlan plan, String datasheet, String bench, boolean simulated) {
    ObjectNode document = JSON.objectNode();
    document.put("millrace", Version.CURRENT);
    document.put("datasheet", datasheet);
    document.put("bench", bench);
    document.put("origin", simulated ? "simulated" : "bench");
    document.put("duration_s", plan.night().hours() * 3600);
    document.put("decided", plan.night().decided());
    document.put("undecidable", plan.undecidable().size());
    document.put("searched_to_the_end", plan.searched());
    ObjectNode parts = document.putObject("duration_by_part_s");
    plan.night().secondsByPart().forEach(parts::put);
    ArrayNode limits = document.putArray("limits");
    plan.night().limits().forEach(l -> limits.add(ForecastJson.limit(l)));
    ArrayNode beyond = document.putArray("undecidable_limits");
    plan.undecidable().forEach(l -> beyond.add(ForecastJson.limit(l)));
    ArrayNode kept = document.putArray("kept");
    plan.kept().forEach(k -> kept.add(kept(k)));
    ArrayNode curve = document.putArray("curve");
    for (NightPlan.CurvePoint point : plan.curve()) {
      ObjectNode node = curve.addObject();
      node.put("duration_s", point.hours() * 3600);
      node.put("worst_U_over_deciding", point.worstShare().orElse(null));
      node.put("decided", point.decided());
    }
    document.put("sequence", plan.night().sequence());
    return document;
  }

  private static ObjectNode kept(NightPlan.Kept kept) {
    ObjectNode node = JSON.objectNode();
    node.put("what", kept.of().lever().text());
    node.put("of_range", kept.of().range().orElse(null));
    node.put("amount", kept.amount());
    node.put("too_little", kept.less());
    node.put("quantity", kept.missed().result().quantity().key());
    node.put("range", kept.missed().result().range().orElse(null));
    node.put("others", kept.others());
    return node;
  }
}
