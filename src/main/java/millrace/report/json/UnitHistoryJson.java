// SPDX-License-Identifier: Apache-2.0
package millrace.report.json;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.ageing.LimitForecast;
import millrace.assessment.history.RangeHistory;
import millrace.assessment.history.RangeHistory.Drift;
import millrace.assessment.history.RangeHistory.Forecast;
import millrace.assessment.history.RangeHistory.Visit;
import millrace.assessment.history.UnitHistory;
import millrace.assessment.history.UnitRun;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ResultConditions;
import millrace.evidence.Version;
import millrace.report.unit.UnitHistoryWords;
import millrace.report.words.OverallVerdict;
import org.jspecify.annotations.Nullable;

/** Document of {@code unit --json}. Every key is present, null if empty. */
public final class UnitHistoryJson {
  private static final JsonNodeFactory JSON = JsonNodeFactory.instance;

  private UnitHistoryJson() {}

  /**
   * The document.
   *
   * @param history the history
   * @return the document
   */
  public static ObjectNode of(UnitHistory history) {
    ObjectNode document = JSON.objectNode();
    document.put("millrace", Version.CURRENT);
    document.put("unit", history.unit());
    document.put("simulated", history.simulated());
    words(document.putArray("verdict"), UnitHistoryWords.verdict(history));
    UnitRun last = history.lastUsed().orElseThrow();
    document.put("last_run", last.run().id());
    document.put("outcome", OverallVerdict.word(last.limits()));
    words(document.putArray("repaired_since"), history.workSince());
    document.set("look_again", history.lookAgain().map(UnitHistoryJson::lookAgain).orElse(null));
    document.put("coverage", history.coverage());
    ArrayNode ranges = document.putArray("ranges");
    history.ranges().forEach(r -> ranges.add(range(r)));
    ArrayNode runs = document.putArray("runs");
    history.runs().forEach(r -> runs.add(run(r)));
    words(document.putArray("notes"), history.notes());
    return document;
  }

  private static void words(ArrayNode into, List<String> all) {
    all.forEach(into::add);
  }

  private static ObjectNode lookAgain(UnitHistory.LookAgain l) {
    ObjectNode node = JSON.objectNode();
    node.put("by", l.by().toString());
    node.put("because", l.why());
    put(node, "probability_within_limits", l.within());
    return node;
  }

  private static ObjectNode range(RangeHistory range) {
    ObjectNode node = JSON.objectNode();
    node.put("range", range.range());
    node.set("at", at(range.at()));
    ArrayNode visits = node.putArray("visits");
    range.visits().forEach(v -> visits.add(visit(v)));
    node.set("drift", range.drift().map(UnitHistoryJson::drift).orElse(null));
    node.put("no_drift", range.noDrift().orElse(null));
    ArrayNode forecasts = node.putArray("limits");
    range.forecasts().forEach(f -> forecasts.add(forecast(f)));
    node.put("no_forecast", range.noForecast().orElse(null));
    return node;
  }

  private static ObjectNode at(ResultConditions at) {
    ObjectNode node = JSON.objectNode();
    at.numbers().forEach((key, value) -> node.put(key.text(), value));
    return node;
  }

  private static ObjectNode visit(Visit v) {
    ObjectNode node = JSON.objectNode();
    node.put("run", v.run().run().id());
    node.put("measured_at", v.run().run().start().startedAt().toString());
    node.put("current_error_ppm", v.errorPpm());
    Optional<ComputationOutcome.Uncertainty> u = v.uncertainty();
    uncertainty(node, u);
    node.put("not_in_the_drift", v.apart().orElse(null));
    return node;
  }

  private static void uncertainty(
      ObjectNode node, Optional<ComputationOutcome.Uncertainty> stated) {
    if (stated.isEmpty()) {
      node.putNull("standard_uncertainty");
      node.putNull("expanded_uncertainty");
      node.putNull("degrees_of_freedom");
      return;
    }
    node.put("standard_uncertainty", stated.get().standard());
    node.put("expanded_uncertainty", stated.get().expanded());
    put(node, "degrees_of_freedom", stated.get().degreesOfFreedom());
  }

  private static ObjectNode drift(Drift drift) {
    ObjectNode node = JSON.objectNode();
    node.put("ppm_per_year", drift.ppmPerYear());
    uncertainty(node, Optional.of(drift.uncertainty()));
    ObjectNode interval = node.putObject("interval");
    interval.put("lower", drift.uncertainty().lower());
    interval.put("upper", drift.uncertainty().upper());
    node.put("significant", drift.significant());
    node.put("visits", drift.visits());
    node.put("same_instruments", drift.sameInstruments());
    node.put("birge_ratio", drift.line().birge());
    return node;
  }

  private static ObjectNode forecast(Forecast f) {
    ObjectNode node = JSON.objectNode();
    ObjectNode limit = node.putObject("limit_ppm");
    put(limit, "lower", f.limit().lower());
    put(limit, "upper", f.limit().upper());
    put(node, "runs_to_ppm", f.side());
    node.put("leaves_about", day(f.leaves()));
    node.put("visits_reach_to", f.reach().toString());
    node.put("probability_within_then", f.within(f.reach()));
    node.put("sure_until", day(f.sureUntil()));
    node.put("sure", LimitForecast.RELIABILITY);
    node.put("proviso", f.proviso().orElse(null));
    return node;
  }

  private static ObjectNode run(UnitRun run) {
    ObjectNode node = RunJson.summary(run.run());
    node.put("outcome", run.used() ? OverallVerdict.word(run.limits()) : null);
    node.put("left_out", run.leftOut().orElse(null));
    words(node.putArray("notes"), run.notes());
    node.put("retest_because", run.workBefore().orElse(null));
    ArrayNode repairs = node.putArray("repairs_after");
    run.workAfter()
        .forEach(
            w ->
                repairs
                    .addObject()
                    .put("text", w.text())
                    .put("written_at", w.writtenAt().toString()));
    return node;
  }

  private static @Nullable String day(Optional<LocalDate> day) {
    return day.map(LocalDate::toString).orElse(null);
  }

  private static void put(ObjectNode node, String key, OptionalDouble value) {
    if (value.isPresent()) {
      node.put(key, value.getAsDouble());
    } else {
      node.putNull(key);
    }
  }
}
