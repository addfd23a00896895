// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import millrace.cli.draft.SchemaCommand;
import millrace.evidence.Conformity;
import millrace.evidence.ErrorDistribution;
import millrace.evidence.IncidentKind;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultQuantity;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

class SchemaCommandTest {
  /** The example of the contract, its figures invented. */
  private static final String RESULTS =
      """
      {"millrace": "0.1.0", "run": 12, "run_uuid": "0190e0a0-1111-7222-8333-444455556666",
       "unit": "FX3-00107", "origin": "bench", "reference_temperature_degC": 23.0,
       "results": [
        {"quantity": "tempco", "range": "1mA", "at": {"load_ohm": 100.0},
         "value": -1.93, "unit": "ppm/K", "ppm_base": "I_ref", "standard_uncertainty": 0.040,
         "expanded_uncertainty": 0.093,
         "interval": {"lower": -2.023, "upper": -1.837, "coverage": 0.9545},
         "coverage_factor": 2.32, "degrees_of_freedom": 9.4, "n": 11,
         "bound": null, "missing": null, "limit": {"lower": -5.0, "upper": 5.0, "when": {"temperature_degC": [5.0, 50.0],
           "terminal_voltage_V": null, "supply_V": null, "time_on_s": null}},
         "covers": {"basis": "measured", "of": null, "wanting": []},
         "risk": {"specific": 0.0, "global_consumer": null, "global_producer": null},
         "decision_rule": "simple", "tur": 54, "conformity": "pass",
         "probability_of_conformity": 1.0,
         "budget": [{"component": "meter noise", "group": "point", "value": 0.2e-6, "unit": "A",
           "distribution": "normal", "sensitivity": 0.19, "contribution": 0.038,
           "degrees_of_freedom": 94}],
         "method": "weighted least squares, Methods of Millrace 5.2", "notes": []}],
       "causes": [{"cause": "range resistor", "of": "R2", "size": 812, "unit": "ppm",
         "standard_uncertainty": 4.5, "expanded_uncertainty": 9, "probability": 0.97,
         "not_separable_from": [], "separated_by": null}],
       "incidents": {"retry": 2}}
      """;

  private static JsonNode results() {
    return Schemas.json(RESULTS);
  }

  private static List<String> complaints(JsonNode document) {
    return Schemas.complaints(SchemaCommand.Kind.results, document);
  }

  @ParameterizedTest
  @EnumSource(SchemaCommand.Kind.class)
  void printsAValidSchema(SchemaCommand.Kind kind) {
    Spoken spoken = Spoken.by("schema", kind.name());
    assertEquals(0, spoken.code());
    assertEquals("", spoken.err());
    assertTrue(spoken.out().contains("https://json-schema.org/draft/2020-12/schema"));
    assertEquals(List.of(), Schemas.complaintsOfTheSchemaItself(kind));
  }

  @Test
  void anUnknownNameIsRefusedWithTheNamesThereAre() {
    Spoken spoken = Spoken.by("schema", "unit");
    assertEquals(2, spoken.code());
    assertEquals("", spoken.out());
    assertTrue(
        spoken
            .err()
            .contains(
                "NAME: 'unit'; expected 'sequence', 'datasheet', 'bench', 'driver',"
                    + " 'laboratory', 'faults',"
                    + " 'results' or 'predictions'"),
        spoken.err());
  }

  @Test
  void resultsAsTheContractHasThemAreValid() {
    assertEquals(List.of(), complaints(results()));
  }

  @Test
  void everyKeyIsAlwaysThere() {
    for (String pointer : List.of("", "/results/0", "/results/0/budget/0", "/causes/0")) {
      JsonNode whole = results();
      List<String> keys = new ArrayList<>();
      whole.at(pointer).fieldNames().forEachRemaining(keys::add);
      for (String key : notEmpty(keys)) {
        JsonNode without = results();
        ((ObjectNode) without.at(pointer)).remove(key);
        assertTrue(!complaints(without).isEmpty(), "without " + pointer + "/" + key);
      }
      ((ObjectNode) whole.at(pointer)).put("more", 1);
      assertTrue(!complaints(whole).isEmpty(), "more in " + pointer);
    }
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "{\"unit\": \"ppm\"}",
        "{\"value\": null}",
        "{\"value\": \"NaN\"}",
        "{\"bound\": \"above\"}",
        "{\"conformity\": null}",
        "{\"conformity\": \"failed\"}",
        "{\"limit\": null}",
        "{\"at\": {\"temperature\": 23}}",
        "{\"standard_uncertainty\": -1}",
        "{\"missing\": \"no reason, since there is a value\"}",
      })
  void aResultThatContradictsItselfIsRefused(String change) {
    JsonNode whole = results();
    ((ObjectNode) whole.at("/results/0")).setAll((ObjectNode) Schemas.json(change));
    assertTrue(!complaints(whole).isEmpty(), change);
  }

  @Test
  void aResultThatWasNotComputedSaysWhy() {
    JsonNode whole = results();
    ((ObjectNode) whole.at("/results/0"))
        .setAll(
            (ObjectNode)
                Schemas.json(
                    """
                    {"value": null, "missing": "one temperature", "standard_uncertainty": null,
                     "expanded_uncertainty": null, "interval": null, "coverage_factor": null,
                     "degrees_of_freedom": null, "n": null, "tur": null,
                     "conformity": "not evaluated", "probability_of_conformity": null, "budget": []}
                    """));
    assertEquals(List.of(), complaints(whole));
  }

  @Test
  void theWordsAreThoseOfTheProgram() {
    JsonNode schema = Schemas.json(SchemaCommand.schema(SchemaCommand.Kind.results));
    JsonNode result = schema.at("/$defs/result/properties");
    assertEquals(
        Stream.of(ResultQuantity.values()).map(ResultQuantity::key).toList(),
        words(result.at("/quantity/enum")));
    List<String> at = new ArrayList<>();
    result.at("/at/properties").fieldNames().forEachRemaining(at::add);
    assertEquals(Stream.of(ResultConditionKey.values()).map(ResultConditionKey::text).toList(), at);
    assertEquals(
        Stream.of(Conformity.values()).map(Conformity::text).toList(),
        words(result.at("/conformity/enum")));
    assertEquals(
        Stream.of(ErrorDistribution.values()).map(ErrorDistribution::text).toList(),
        words(schema.at("/$defs/component/properties/distribution/enum")));
    assertEquals(
        Stream.of(IncidentKind.values()).map(IncidentKind::text).toList(),
        words(schema.at("/properties/incidents/propertyNames/enum")));
  }

  @ParameterizedTest
  @EnumSource(ResultQuantity.class)
  void eachQuantityHasItsUnit(ResultQuantity quantity) {
    JsonNode whole = results();
    ((ObjectNode) whole.at("/results/0"))
        .put("quantity", quantity.key())
        .put("unit", quantity.unit());
    assertEquals(List.of(), complaints(whole));
  }

  private static List<String> words(JsonNode list) {
    List<String> words = new ArrayList<>();
    list.forEach(
        n -> {
          if (!n.isNull()) {
            words.add(n.asText());
          }
        });
    return words;
  }
}
