// SPDX-License-Identifier: Apache-2.0
package millrace.report.json;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import millrace.evidence.BoxJudgementBasis;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Conformity;
import millrace.evidence.DecisionRule;
import millrace.evidence.ErrorDistribution;
import millrace.evidence.IncidentKind;
import millrace.evidence.ResultQuantity;
import millrace.evidence.RunOrigin;
import millrace.evidence.SweepDirection;
import millrace.quantity.EnumWord;

/** JSON Schema of an output document; its file is beside the code that writes the document. */
public enum OutputJsonSchema {
  /** Schema of {@code analyze --json}. */
  RESULTS("results.schema.json"),
  /** Schema of {@code predict --json}. */
  PREDICTIONS("predictions.schema.json");

  private static final Map<String, String> QUANTITIES = quantities();

  /** The words allowed in each enumeration. */
  private static final Map<String, EnumWord[]> FAMILIES =
      Map.of(
          "/properties/origin", RunOrigin.values(),
          "/properties/incidents/propertyNames", IncidentKind.values(),
          "/$defs/result/properties/at/properties/direction", SweepDirection.values(),
          "/$defs/result/properties/bound", ComputationOutcome.Side.values(),
          "/$defs/result/properties/decision_rule", DecisionRule.Kind.values(),
          "/$defs/result/properties/conformity", Conformity.values(),
          "/$defs/result/properties/covers/anyOf/0/properties/basis",
              BoxJudgementBasis.Basis.values(),
          "/$defs/component/properties/distribution", ErrorDistribution.values());

  private final String file;

  OutputJsonSchema(String file) {
    this.file = file;
  }

  /**
   * The schema as text. Quantities, units and kinds of incident are filled in from the code, so
   * that the schema is always up to date.
   *
   * @return a JSON document
   */
  public String text() {
    ObjectNode schema = stored();
    if (this == RESULTS) {
      FAMILIES.forEach((at, family) -> filled(schema.at(at), words(family)));
      filled(schema.at("/$defs/result/properties/quantity"), QUANTITIES.keySet());
      filled(schema.at("/$defs/result/properties/unit"), new LinkedHashSet<>(QUANTITIES.values()));
      ArrayNode units = (ArrayNode) schema.at("/$defs/result/allOf/0/anyOf");
      new LinkedHashSet<>(QUANTITIES.values()).forEach(unit -> counted(units, unit));
    }
    return RunJson.text(schema).strip();
  }

  private static Map<String, String> quantities() {
    Map<String, String> units = new LinkedHashMap<>();
    for (ResultQuantity quantity : ResultQuantity.values()) {
      units.put(quantity.key(), quantity.unit());
    }
    return units;
  }

  private static List<String> words(EnumWord[] family) {
    return Stream.of(family).map(EnumWord::text).toList();
  }

  /** Inserts the values at the front, so that an allowed null stays last. */
  private static void filled(JsonNode of, Collection<String> values) {
    ArrayNode into = (ArrayNode) of.get("enum");
    int at = 0;
    for (String value : values) {
      into.insert(at, value);
      at++;
    }
  }

  /** Binds the quantities of a unit to that unit. */
  private static void counted(ArrayNode units, String unit) {
    ObjectNode properties = units.addObject().putObject("properties");
    properties.putObject("unit").put("const", unit);
    ArrayNode those = properties.putObject("quantity").putArray("enum");
    QUANTITIES.forEach(
        (quantity, its) -> {
          if (its.equals(unit)) {
            those.add(quantity);
          }
        });
  }

  private ObjectNode stored() {
    try (InputStream in = OutputJsonSchema.class.getResourceAsStream(file)) {
      if (in == null) {
        throw new IllegalStateException(file + " is not in the jar");
      }
      return (ObjectNode) new ObjectMapper().readTree(in);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
