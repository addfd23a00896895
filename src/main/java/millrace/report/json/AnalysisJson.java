// SPDX-License-Identifier: Apache-2.0
package millrace.report.json;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.causes.ErrorCauseDiagnosis;
import millrace.assessment.Assessment;
import millrace.assessment.JudgementComparison;
import millrace.assessment.RunCauseDiagnosis;
import millrace.assessment.TrialAgreement;
import millrace.evidence.BoxJudgementBasis;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ConditionBox;
import millrace.evidence.Judgement;
import millrace.evidence.Limit;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.logbook.PlanChange;
import millrace.logbook.RunSummary;
import millrace.quantity.ClosedInterval;
import millrace.quantity.TimeSpanSeconds;
import org.jspecify.annotations.Nullable;

/**
 * Document of {@code analyze --json}. Every key is present, null if empty; no number is NaN or
 * infinite. Pure; thread-safe.
 */
public final class AnalysisJson {
  private static final JsonNodeFactory JSON = JsonNodeFactory.instance;

  private AnalysisJson() {}

  /**
   * The document of one assessment.
   *
   * @param assessment the findings
   * @param beside the previous findings under another judgement; empty if nothing differs
   * @param version version of Millrace
   * @return the JSON document
   */
  public static ObjectNode of(
      Assessment assessment, Optional<JudgementComparison> beside, String version) {
    RunSummary run = assessment.run();
    ObjectNode document = JSON.objectNode();
    document.put("millrace", version);
    document.put("run", run.id());
    document.put("run_uuid", run.uuid().toString());
    document.put("unit", run.start().unit());
    document.put("origin", run.start().origin().text());
    document.put("reference_temperature_degC", assessment.basis().referenceDegC());
    document.put("stopping", assessment.adaptive() ? "adaptive" : "as planned");
    ArrayNode changes = document.putArray("plan_changes");
    assessment.planChanges().forEach(c -> changes.add(change(c)));
    ArrayNode results = document.putArray("results");
    assessment.results().forEach(r -> results.add(result(r)));
    ArrayNode leftOut = document.putArray("limits_left_out");
    assessment.leftOut().forEach(quantity -> leftOut.add(quantity.key()));
    TrialAgreement.of(assessment.results())
        .ifPresent(t -> agreement(document.putObject("monte_carlo"), t));
    ArrayNode causes = document.putArray("causes");
    Optional<ErrorCauseDiagnosis> diagnosis = RunCauseDiagnosis.of(assessment);
    diagnosis.ifPresent(d -> CausesJson.write(causes, d));
    OptionalDouble left =
        diagnosis.map(ErrorCauseDiagnosis::unexplained).orElseGet(OptionalDouble::empty);
    document.put("causes_unexplained", left.isPresent() ? (Double) left.getAsDouble() : null);
    ArrayNode notes = document.putArray("causes_notes");
    diagnosis.ifPresent(d -> d.notes().forEach(notes::add));
    ObjectNode incidents = document.putObject("incidents");
    assessment.incidents().forEach((kind, n) -> incidents.put(kind.text(), n));
    if (beside.isPresent()) {
      document.put("judged_because", assessment.basis().reason());
      earlier(document.putObject("earlier"), beside.get());
    }
    return document;
  }

  private static void agreement(ObjectNode node, TrialAgreement found) {
    node.put("results_with_interval", found.results());
    node.put("agree", found.agree());
    node.put("disagree", found.disagree());
    node.put("disagree_little", found.little());
    node.put("undecided", found.undecided());
    node.put("without_trials", found.withoutTrials());
  }

  private static ObjectNode change(PlanChange change) {
    ObjectNode node = JSON.objectNode();
    node.put("kind", change.kind().text());
    node.put("text", change.words());
    node.put("reason", change.reason());
    node.put("who", change.who());
    node.put("elapsed_s", TimeSpanSeconds.seconds(change.elapsed()));
    return node;
  }

  /** The results of the previous judgement that differ now, with their previous values. */
  private static void earlier(ObjectNode node, JudgementComparison beside) {
    node.put("judged_at", beside.earlier().madeAt().toString());
    node.put("judged_because", beside.earlier().reason());
    ArrayNode results = node.putArray("results");
    beside.pairs().forEach(p -> p.before().ifPresent(r -> results.add(result(r))));
  }

  /**
   * One result.
   *
   * @param result the result
   * @return its JSON object
   */
  public static ObjectNode result(Result result) {
    ObjectNode node = JSON.objectNode();
    node.put("quantity", result.quantity().key());
    node.put("range", result.range().orElse(null));
    node.set("at", at(result.at()));
    result.outcome().accept(new Outcomes(node, result));
    judgement(node, result);
    ArrayNode budget = node.putArray("budget");
    result.budget().forEach(c -> budget.add(component(c)));
    node.put("method", result.method());
    ArrayNode notes = node.putArray("notes");
    result.notes().forEach(notes::add);
    return node;
  }

  static ObjectNode at(ResultConditions at) {
    ObjectNode node = JSON.objectNode();
    for (Map.Entry<ResultConditionKey, Object> each : at.all().entrySet()) {
      if (each.getValue() instanceof Double number) {
        node.put(each.getKey().text(), number);
      } else {
        node.put(each.getKey().text(), String.valueOf(each.getValue()));
      }
    }
    return node;
  }

  /** Writes value, uncertainty, bound and the reason for a missing value. */
  private record Outcomes(ObjectNode node, Result result)
      implements ComputationOutcome.Visitor<Boolean> {
    @Override
    public Boolean value(ComputationOutcome.Value value) {
      return written(value.value(), value.uncertainty().orElse(null), value.n(), null, null);
    }

    @Override
    public Boolean bound(ComputationOutcome.Bound bound) {
      return written(bound.value(), null, bound.n(), bound.side().text(), null);
    }

    @Override
    public Boolean missing(ComputationOutcome.Missing missing) {
      return written(null, null, missing.n(), null, missing.reason());
    }

    private Boolean written(
        @Nullable Double value,
        ComputationOutcome.@Nullable Uncertainty u,
        int n,
        @Nullable String bound,
        @Nullable String missing) {
      node.put("value", value);
      node.put("unit", result.quantity().unit());
      node.put("ppm_base", result.ppmBase().orElse(null));
      uncertainty(u);
      node.put("n", n);
      node.put("bound", bound);
      node.put("missing", missing);
      return true;
    }

    private void uncertainty(ComputationOutcome.@Nullable Uncertainty u) {
      if (u == null) {
        for (String key : new String[] {"standard_uncertainty", "expanded_uncertainty"}) {
          node.putNull(key);
        }
        node.putNull("interval");
        node.putNull("coverage_factor");
        node.putNull("degrees_of_freedom");
        return;
      }
      node.put("standard_uncertainty", u.standard());
      node.put("expanded_uncertainty", u.expanded());
      ObjectNode interval = node.putObject("interval");
      interval.put("lower", u.lower());
      interval.put("upper", u.upper());
      interval.put("coverage", u.coverage());
      node.put("coverage_factor", u.coverageFactor());
      optional(node, "degrees_of_freedom", u.degreesOfFreedom());
    }
  }

  private static void optional(ObjectNode node, String key, OptionalDouble value) {
    if (value.isPresent()) {
      node.put(key, value.getAsDouble());
    } else {
      node.putNull(key);
    }
  }

  private static void judgement(ObjectNode node, Result result) {
    if (result.judgement().isEmpty()) {
      for (String key :
          new String[] {
            "limit",
            "decision_rule",
            "tur",
            "conformity",
            "probability_of_conformity",
            "covers",
            "risk"
          }) {
        node.putNull(key);
      }
      return;
    }
    Judgement judged = result.judgement().get();
    ObjectNode limit = limit(judged.limit());
    limit.set("when", when(judged.when()));
    node.set("limit", limit);
    node.put("decision_rule", judged.rule().kind().text());
    optional(node, "tur", judged.testUncertaintyRatio());
    node.put("conformity", judged.conformity().text());
    optional(node, "probability_of_conformity", judged.probability());
    node.set("covers", covers(judged.covers()));
    ObjectNode risk = node.putObject("risk");
    optional(risk, "specific", judged.risk().specific());
    optional(risk, "global_consumer", judged.risk().globalConsumer());
    optional(risk, "global_producer", judged.risk().globalProducer());
  }

  private static ObjectNode when(ConditionBox box) {
    ObjectNode node = JSON.objectNode();
    span(node, "temperature_degC", box.temperatureDegC());
    span(node, "terminal_voltage_V", box.terminalVoltageV());
    span(node, "supply_V", box.supplyV());
    span(node, "time_on_s", box.timeOnS());
    return node;
  }

  private static void span(ObjectNode node, String key, Optional<ClosedInterval> span) {
    if (span.isPresent()) {
      node.putArray(key).add(span.get().lower()).add(span.get().upper());
    } else {
      node.putNull(key);
    }
  }

  private static ObjectNode covers(BoxJudgementBasis covers) {
    ObjectNode node = JSON.objectNode();
    node.put("basis", covers.basis().text());
    node.put("of", covers.of().orElse(null));
    ArrayNode wanting = node.putArray("wanting");
    covers.wanting().forEach(wanting::add);
    return node;
  }

  private static ObjectNode limit(Limit limit) {
    ObjectNode node = JSON.objectNode();
    optional(node, "lower", limit.lower());
    optional(node, "upper", limit.upper());
    return node;
  }

  /**
   * One row of a budget.
   *
   * @param c the component
   * @return its JSON object
   */
  public static ObjectNode component(BudgetComponent c) {
    ObjectNode node = JSON.objectNode();
    node.put("component", c.component());
    node.put("group", c.group());
    node.put("value", c.value());
    node.put("unit", c.unit());
    node.put("distribution", c.distribution().text());
    node.put("sensitivity", c.sensitivity());
    node.put("contribution", c.contribution());
    optional(node, "degrees_of_freedom", c.degreesOfFreedom());
    return node;
  }
}
