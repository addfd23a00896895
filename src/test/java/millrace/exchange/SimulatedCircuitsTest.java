// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Path;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.Reference;
import millrace.analysis.causes.Cause;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.RunCauseDiagnosis;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultQuantity;
import millrace.logbook.RunStart;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Sources whose truth is known since a general-purpose circuit simulator computed them, each with
 * one fault or none: the fault is named, the results hold the truth. How the files were made stands
 * in them.
 */
class SimulatedCircuitsTest extends Importing {
  private static final Map<ResultQuantity, String> TRUTHS =
      Map.of(
          ResultQuantity.CURRENT, "current_A",
          ResultQuantity.OUTPUT_CONDUCTANCE, "output_conductance_S",
          ResultQuantity.COMPLIANCE_VOLTAGE, "compliance_V");

  private List<ImportedRun> imported(String name) throws IOException {
    String sheet = Reference.text("circuits/" + name + ".datasheet.yaml");
    Import.Circumstances with =
        new Import.Circumstances(
            Optional.of(new Import.Attached(name + ".datasheet.yaml", sheet.getBytes(UTF_8))),
            RunStart.People.NONE,
            Optional.empty(),
            Map.of(),
            "0.0.1",
            NOW,
            ZoneOffset.UTC);
    Path csv = file(Reference.text("circuits/" + name + ".csv"));
    return Import.check(csv).into(logbook, with);
  }

  @ParameterizedTest
  @ValueSource(strings = {"gate", "bipolar", "amplifier", "crowded"})
  void theFaultIsNamedAndTheTruthIsHeld(String name) throws IOException {
    JsonNode units = Reference.json("circuits/" + name + ".json").get("units");
    List<ImportedRun> runs = imported(name);
    assertEquals(units.size(), runs.size());
    List<Boolean> held = new ArrayList<>();
    for (int i = 0; i < runs.size(); i++) {
      JsonNode unit = units.get(i);
      assertEquals(unit.get("unit").asText(), runs.get(i).unit());
      Assessment found = Assessor.assess(logbook.reader(runs.get(i).run()));
      named(unit, RunCauseDiagnosis.of(found).orElseThrow().causes());
      // a meter that reads wrong by more than it states holds no truth
      if (!unit.get("cause").asText().equals("meter gain")) {
        found.results().forEach(r -> held(r, unit.get("ranges"), held));
        unit.get("ranges")
            .fields()
            .forEachRemaining(
                range -> meanSlope(found.results(), range.getKey(), range.getValue(), held));
      }
    }
    long outside = held.stream().filter(inside -> !inside).count();
    assertTrue(held.size() >= 40 && outside <= 0.1 * held.size(), outside + " of " + held.size());
  }

  private static void named(JsonNode unit, List<Cause> causes) {
    String of = unit.get("of").isNull() ? "" : " " + unit.get("of").asText();
    String wanted = unit.get("cause").asText() + of;
    Cause first = causes.get(0);
    boolean alone = first.notSeparableFrom().isEmpty();
    assertTrue(
        first.name().equals(wanted) || first.notSeparableFrom().contains(wanted),
        () -> unit.get("unit").asText() + " has " + wanted + ", found " + causes);
    assertTrue(alone || first.separatedBy().isPresent(), () -> "no separation: " + causes);
  }

  /**
   * The file's truth is the mean slope from 10 to 40 degC, which for a curved unit is not the
   * least-squares slope of tempco: it follows from those to the cold and to the hot end.
   */
  private static void meanSlope(
      List<Result> results, String range, JsonNode truth, List<Boolean> held) {
    Optional<ComputationOutcome.Value> cold = value(results, range, ResultQuantity.TEMPCO_COLD);
    Optional<ComputationOutcome.Value> hot = value(results, range, ResultQuantity.TEMPCO_HOT);
    if (cold.isPresent() && hot.isPresent()) {
      double slope = (13 * cold.get().value() + 17 * hot.get().value()) / 30;
      double u = (13 * expanded(cold.get()) + 17 * expanded(hot.get())) / 30;
      held.add(Math.abs(slope - truth.get("tempco_ppm_per_K").asDouble()) <= u);
    }
  }

  private static double expanded(ComputationOutcome.Value value) {
    return value.uncertainty().orElseThrow().expanded();
  }

  private static Optional<ComputationOutcome.Value> value(
      List<Result> results, String range, ResultQuantity quantity) {
    return results.stream()
        .filter(r -> r.quantity() == quantity && r.range().equals(Optional.of(range)))
        .filter(r -> r.judgement().isEmpty())
        .map(Result::outcome)
        .filter(o -> o instanceof ComputationOutcome.Value v && v.uncertainty().isPresent())
        .map(ComputationOutcome.Value.class::cast)
        .findFirst();
  }

  private static void held(Result result, JsonNode ranges, List<Boolean> held) {
    OptionalDouble degC = result.at().number(ResultConditionKey.TEMPERATURE_DEGC);
    String key = TRUTHS.get(result.quantity());
    if (key != null
        && degC.orElse(23) == 23
        && result.outcome() instanceof ComputationOutcome.Value value
        && value.uncertainty().isPresent()) {
      double truth = ranges.get(result.range().orElseThrow()).get(key).asDouble();
      ComputationOutcome.Uncertainty u = value.uncertainty().get();
      held.add(u.lower() <= truth && truth <= u.upper());
    }
  }
}
