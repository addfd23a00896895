// SPDX-License-Identifier: Apache-2.0
package millrace.report.json;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Optional;
import millrace.calibration.AccuracyStatement;
import millrace.datasheet.Datasheet;
import millrace.evidence.Version;
import millrace.planning.LimitForecast;
import millrace.planning.meters.AccuracyNeed;
import millrace.planning.meters.MetersPlan;

/** Document of {@code plan meters --json}. Every key is present, null if empty. */
public final class MetersPlanJson {
  private static final JsonNodeFactory JSON = JsonNodeFactory.instance;

  private MetersPlanJson() {}

  /**
   * The document.
   *
   * @param plan the plan
   * @param datasheet datasheet with the limits to decide
   * @param bench name of the user's bench; empty if none is given
   * @return the document
   */
  public static ObjectNode of(MetersPlan plan, Datasheet datasheet, Optional<String> bench) {
    ObjectNode document = JSON.objectNode();
    document.put("millrace", Version.CURRENT);
    document.put("datasheet", datasheet.name());
    document.put("bench", bench.orElse(null));
    ArrayNode needs = document.putArray("needs");
    plan.needs().forEach(n -> needs.add(need(n, bench.isPresent())));
    limits(document.putArray("limits"), plan.limits());
    limits(document.putArray("undecidable_limits"), plan.impossible());
    document.set("own", plan.own().map(MetersPlanJson::own).orElse(null));
    return document;
  }

  private static ObjectNode need(AccuracyNeed need, boolean own) {
    AccuracyStatement a = need.statement();
    ObjectNode node = JSON.objectNode();
    node.put("role", need.group().roleInWords());
    node.put("unit", need.group().dimension().baseUnit());
    node.put("full_scale", need.group().fullScale().orElse(null));
    node.put("part", need.group().kind().text());
    node.put("of_reading", a.ofReading());
    node.put("of_full_scale", a.ofFullScale());
    node.put("absolute", a.absolute());
    node.put("linearity_of_full_scale", a.transfer().orElse(null));
    node.put("coverage_factor", a.coverageFactor().orElse(null));
    ArrayNode ranges = node.putArray("ranges");
    need.ranges().forEach(ranges::add);
    node.set("bound_by", need.binding().map(ForecastJson::limit).orElse(null));
    node.put("own_is_enough", own ? need.factor() >= 1 : null);
    return node;
  }

  private static void limits(ArrayNode array, List<LimitForecast> limits) {
    limits.forEach(l -> array.add(ForecastJson.limit(l)));
  }

  private static ObjectNode own(MetersPlan.Own own) {
    ObjectNode node = JSON.objectNode();
    limits(node.putArray("limits"), own.limits());
    ArrayNode alone = node.putArray("alone");
    for (MetersPlan.Alone each : own.alone()) {
      ObjectNode one = alone.addObject();
      one.put("role", each.role());
      one.put("instrument", each.instrument());
      limits(one.putArray("leaves_open"), each.open());
    }
    return node;
  }
}
