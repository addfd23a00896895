// SPDX-License-Identifier: Apache-2.0
package millrace.report.json;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Optional;
import millrace.evidence.ResultQuantity;
import millrace.evidence.Version;
import millrace.planning.boards.BoardForecaster.Stay;
import millrace.planning.boards.BoardPlan;
import millrace.planning.boards.BoardRisks.LimitRisk;
import millrace.planning.boards.TriedBoardTest;

/** Document of {@code plan boards --json}. Every key is present, null if empty. */
public final class BoardPlanJson {
  private static final JsonNodeFactory JSON = JsonNodeFactory.instance;

  private BoardPlanJson() {}

  /**
   * The subject of the plan.
   *
   * @param datasheet name of the datasheet
   * @param bench name of the bench
   * @param simulated whether the bench is simulated
   * @param typeRun the type run that the test relies on, in words
   */
  public record About(
      String datasheet, String bench, boolean simulated, Optional<String> typeRun) {}

  /**
   * The document.
   *
   * @param plan the plan
   * @param about the subject of the plan
   * @return the document
   */
  public static ObjectNode of(BoardPlan plan, About about) {
    TriedBoardTest test = plan.test();
    ObjectNode document = JSON.objectNode();
    document.put("millrace", Version.CURRENT);
    document.put("datasheet", about.datasheet());
    document.put("bench", about.bench());
    document.put("origin", about.simulated() ? "simulated" : "bench");
    document.put("held", plan.isHeld());
    document.put("mean_duration_s", test.meanS());
    document.put("longest_duration_s", test.longestS());
    document.put("points", test.points());
    document.put("consumer_risk", test.risks().consumer());
    document.put("consumer_risk_stated", plan.stated().consumer());
    document.put("producer_risk", test.risks().producer());
    document.put("producer_risk_stated", plan.stated().producer());
    document.put("type_run", about.typeRun().orElse(null));
    ArrayNode left = document.putArray("left_to_type_run");
    test.design().scope().left().stream().sorted().map(ResultQuantity::key).forEach(left::add);
    ArrayNode spread = document.putArray("spread_from");
    plan.spread().forEach(spread::add);
    document.put(
        "fewest_passes", plan.sequential().map(BoardPlan.FewestPasses::passes).orElse(null));
    document.put("searched_to_the_end", plan.searched());
    ArrayNode limits = document.putArray("limits");
    test.risks().limits().forEach(r -> limits.add(limit(r)));
    ArrayNode stays = document.putArray("parts");
    test.stays().forEach(s -> stays.add(stay(s)));
    ArrayNode hindrances = document.putArray("hindrances");
    plan.hindrances().forEach(h -> hindrances.add(hindrance(h)));
    document.put("sequence", test.sequence());
    return document;
  }

  private static ObjectNode limit(LimitRisk risk) {
    ObjectNode node = JSON.objectNode();
    boolean known = risk.isKnown();
    node.put("consumer_risk", known ? Double.valueOf(risk.consumer()) : null);
    node.put("producer_risk", known ? Double.valueOf(risk.producer()) : null);
    node.put("again", known ? Double.valueOf(risk.again()) : null);
    node.set("forecast", ForecastJson.limit(risk.limit()));
    return node;
  }

  private static ObjectNode stay(Stay stay) {
    ObjectNode node = JSON.objectNode();
    node.put("range", stay.range().isEmpty() ? null : stay.range());
    node.put("points", stay.points());
    node.put("duration_s", stay.seconds());
    return node;
  }

  private static ObjectNode hindrance(BoardPlan.Hindrance h) {
    ObjectNode node = JSON.objectNode();
    node.put("quantity", h.risk().limit().result().quantity().key());
    node.put("range", h.risk().limit().result().range().orElse(null));
    node.put("trouble", h.trouble().text());
    node.put("needed_U", h.neededU().orElse(null));
    node.put("remedy", h.risk().limit().remedy().orElse(null));
    return node;
  }
}
