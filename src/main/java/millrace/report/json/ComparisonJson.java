// SPDX-License-Identifier: Apache-2.0
package millrace.report.json;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import millrace.analysis.batch.BatchMeanAndSpread;
import millrace.analysis.batch.Capability;
import millrace.analysis.batch.ChartSignal;
import millrace.analysis.batch.GaugeIntervals;
import millrace.analysis.batch.GaugeStudy;
import millrace.analysis.batch.IndividualsChart;
import millrace.analysis.batch.Interval;
import millrace.analysis.batch.ProportionInterval;
import millrace.analysis.batch.Yield;
import millrace.assessment.comparison.BatchDistribution;
import millrace.assessment.comparison.ComparedRun;
import millrace.assessment.comparison.Comparison;
import millrace.assessment.comparison.ResultsByGroup;
import millrace.assessment.comparison.ScatterSource;
import millrace.evidence.Limit;
import millrace.evidence.Measurand;
import millrace.report.words.RepairHint;
import org.jspecify.annotations.Nullable;

/**
 * Document of {@code compare --json}. Every key is present, null if empty; no number is NaN or
 * infinite. Pure; thread-safe.
 */
public final class ComparisonJson {
  private static final JsonNodeFactory JSON = JsonNodeFactory.instance;

  private ComparisonJson() {}

  /**
   * The document of one comparison.
   *
   * @param c the findings
   * @param by results by group, if asked for
   * @param version version of Millrace
   * @return the JSON document
   */
  public static ObjectNode of(Comparison c, Optional<ResultsByGroup> by, String version) {
    ObjectNode document = JSON.objectNode();
    document.put("millrace", version);
    document.put("simulated", c.simulated());
    document.put("coverage", c.coverage());
    ArrayNode runs = document.putArray("runs");
    c.runs().forEach(r -> runs.add(run(r)));
    ArrayNode yields = document.putArray("yields");
    c.yields().forEach((batch, yield) -> yields.add(yieldOf(batch, yield)));
    ObjectNode bins = document.putObject("bins");
    c.bins().forEach(bins::put);
    ArrayNode quantities = document.putArray("quantities");
    c.distributions().forEach(d -> quantities.add(quantity(d)));
    put(document, "by_group", by, ComparisonJson::byGroup);
    ArrayNode drifts = document.putArray("drifts");
    c.drifts().forEach(d -> drifts.add(drift(d)));
    ArrayNode contrasts = document.putArray("groups");
    c.contrasts().forEach(k -> contrasts.add(contrast(c, k)));
    ArrayNode trends = document.putArray("trends");
    c.trends().forEach(t -> trends.add(trend(c, t)));
    ArrayNode gauges = document.putArray("gauge_studies");
    c.gauges().forEach(g -> gauges.add(gauge(g)));
    ArrayNode setUps = document.putArray("set_ups");
    c.setUps().forEach(s -> setUps.add(setUp(c, s)));
    ArrayNode causes = document.putArray("causes");
    causes(causes, c.causes());
    ArrayNode notes = document.putArray("notes");
    c.notes().forEach(notes::add);
    return document;
  }

  private static ObjectNode run(ComparedRun r) {
    ObjectNode node = JSON.objectNode();
    node.put("run", r.run().id());
    node.put("run_uuid", r.run().uuid().toString());
    node.put("unit", r.unit());
    node.put("batch", r.run().start().people().batch().orElse(null));
    node.put("started_at", r.run().start().measuredAt().map(Object::toString).orElse(null));
    node.put("conformity", r.conformity().map(k -> k.text()).orElse(null));
    node.put("passed", r.passed());
    node.put("first", r.first());
    node.put("cause", r.cause().orElse(null));
    node.put("bin", r.bin().orElse(null));
    return node;
  }

  private static ObjectNode yieldOf(String batch, Yield yield) {
    ObjectNode node = JSON.objectNode();
    node.put("batch", batch.equals(Comparison.ALL) ? null : batch);
    node.set("first_pass", share(yield.firstPass()));
    node.set("after_retest", share(yield.afterRetest()));
    node.put("retests", yield.retests());
    node.put("not_counted", yield.refused());
    return node;
  }

  private static ObjectNode share(ProportionInterval share) {
    ObjectNode node = JSON.objectNode();
    node.put("count", share.count());
    node.put("of", share.of());
    node.put("value", share.value());
    node.set("interval", interval(share.interval()));
    return node;
  }

  private static ObjectNode interval(Interval interval) {
    ObjectNode node = JSON.objectNode();
    node.put("lower", interval.lower());
    node.put("upper", interval.upper());
    return node;
  }

  /** Puts an object, or null. */
  private static <T> void put(
      ObjectNode node, String key, Optional<T> value, Function<T, ObjectNode> form) {
    if (value.isPresent()) {
      node.set(key, form.apply(value.get()));
    } else {
      node.putNull(key);
    }
  }

  private static void what(ObjectNode node, Measurand m) {
    node.put("quantity", m.quantity().key());
    node.put("range", m.range().orElse(null));
    node.set("at", AnalysisJson.at(m.at()));
    node.put("worst_point", m.worst());
    node.put("unit", m.quantity().unit());
  }

  static ObjectNode limit(Limit limit) {
    ObjectNode node = JSON.objectNode();
    node.put("lower", limit.lower().isPresent() ? (Double) limit.lower().getAsDouble() : null);
    node.put("upper", limit.upper().isPresent() ? (Double) limit.upper().getAsDouble() : null);
    return node;
  }

  private static ObjectNode quantity(BatchDistribution d) {
    ObjectNode node = JSON.objectNode();
    what(node, d.what());
    put(node, "limit", d.limit(), ComparisonJson::limit);
    put(node, "guarded_limit", d.testLimit(), ComparisonJson::limit);
    put(node, "statistics", d.statistics(), s -> statistics(d, s));
    ArrayNode values = node.putArray("values");
    for (BatchDistribution.Entry e : d.entries()) {
      ObjectNode value = values.addObject();
      value.put("run", e.run().run().id());
      value.put("value", e.value().isPresent() ? (Double) e.value().getAsDouble() : null);
      value.put("conformity", e.result().judgement().map(j -> j.conformity().text()).orElse(null));
      value.put("counts", e.counts());
    }
    ArrayNode notes = node.putArray("notes");
    d.notes().forEach(notes::add);
    return node;
  }

  private static ObjectNode byGroup(ResultsByGroup by) {
    ObjectNode node = JSON.objectNode();
    ArrayNode factors = node.putArray("factors");
    by.by().forEach(f -> factors.add(f.text()));
    ArrayNode quantities = node.putArray("quantities");
    for (ResultsByGroup.Row row : by.rows()) {
      ObjectNode quantity = quantities.addObject();
      what(quantity, row.what());
      ArrayNode cells = quantity.putArray("groups");
      for (int i = 0; i < by.groups().size(); i++) {
        ArrayNode names = cells.addObject().putArray("names");
        by.groups().get(i).forEach(names::add);
        spread((ObjectNode) cells.get(i), row.cells().get(i));
      }
      ArrayNode sources = quantity.putArray("sources_of_scatter");
      row.sources().forEach(s -> sources.add(source(s)));
    }
    return node;
  }

  private static ObjectNode source(ScatterSource s) {
    ObjectNode node = JSON.objectNode();
    node.put("source", s.name());
    node.put("standard_deviation", s.component().sd());
    node.put("lower", s.component().lower());
    node.put("upper", Double.isFinite(s.component().upper()) ? s.component().upper() : null);
    node.put("share_of_variance", s.share());
    return node;
  }

  private static void spread(ObjectNode node, Optional<BatchMeanAndSpread> of) {
    node.put("n", of.map(BatchMeanAndSpread::n).orElse(0));
    node.put("mean", of.map(BatchMeanAndSpread::mean).orElse(null));
    node.put("standard_deviation", of.map(s -> orNull(s.scatter())).orElse(null));
    node.put("median", of.map(BatchMeanAndSpread::median).orElse(null));
    node.put("least", of.map(BatchMeanAndSpread::least).orElse(null));
    node.put("largest", of.map(BatchMeanAndSpread::largest).orElse(null));
  }

  private static ObjectNode statistics(BatchDistribution d, BatchDistribution.Statistics s) {
    ObjectNode node = JSON.objectNode();
    spread(node, Optional.of(s.spread()));
    put(node, "tolerance_95_95", s.tolerance(), ComparisonJson::interval);
    put(node, "capability", s.capability(), ComparisonJson::capability);
    put(node, "within", s.within(), ComparisonJson::share);
    put(node, "chart", s.chart(), chart -> chart(d, chart));
    ArrayNode outliers = node.putArray("outlier_runs");
    s.outliers().forEach(outliers::add);
    return node;
  }

  private static ObjectNode chart(BatchDistribution d, IndividualsChart chart) {
    List<BatchDistribution.Entry> counting = d.counting();
    ObjectNode node = JSON.objectNode();
    node.put("centre", chart.centre());
    node.put("mean_moving_range", chart.meanRange());
    node.set("limits", interval(chart.limits()));
    node.put("range_limit", chart.rangeLimit());
    ArrayNode signals = node.putArray("signals");
    for (ChartSignal s : chart.signals()) {
      ObjectNode signal = signals.addObject();
      signal.put("rule", s.rule().text());
      signal.put("above", s.above());
      signal.put("first_run", counting.get(s.first()).run().run().id());
      signal.put("first_unit", counting.get(s.first()).run().unit());
      signal.put("last_run", counting.get(s.last()).run().run().id());
      signal.put("last_unit", counting.get(s.last()).run().unit());
    }
    ArrayNode ranges = node.putArray("steps_outside_runs");
    chart.rangesOutside().forEach(i -> ranges.add(counting.get(i).run().run().id()));
    return node;
  }

  private static ObjectNode capability(Capability c) {
    ObjectNode node = JSON.objectNode();
    put(node, "cp", c.cp(), ComparisonJson::index);
    node.set("cpk", index(c.cpk()));
    put(node, "pp", c.pp(), ComparisonJson::index);
    node.set("ppk", index(c.ppk()));
    node.put("normality_p", c.normality().probability());
    ArrayNode notes = node.putArray("notes");
    c.notes().forEach(notes::add);
    return node;
  }

  private static ObjectNode index(Capability.Index index) {
    ObjectNode node = JSON.objectNode();
    node.put("value", index.value());
    node.set("interval", interval(index.interval()));
    return node;
  }

  /** Writes the causes, the most frequent first, each with its share and the cumulative share. */
  private static void causes(ArrayNode causes, List<Comparison.CauseCount> counted) {
    int all = counted.stream().mapToInt(Comparison.CauseCount::units).sum();
    int sofar = 0;
    for (Comparison.CauseCount k : counted) {
      sofar += k.units();
      ObjectNode node = causes.addObject();
      node.put("cause", k.cause());
      node.put("of", k.part().orElse(null));
      node.put("units", k.units());
      node.put("share", (double) k.units() / all);
      node.put("cumulative_share", (double) sofar / all);
      ArrayNode runs = node.putArray("runs");
      k.runs().forEach(runs::add);
      ArrayNode boards = node.putArray("boards");
      k.boards().forEach(b -> boards.add(board(b)));
    }
  }

  private static ObjectNode board(Comparison.Blamed blamed) {
    ObjectNode node = JSON.objectNode();
    node.put("run", blamed.test().run().id());
    node.put("unit_under_test", blamed.test().unit());
    node.put("hint", blamed.diagnosis().flatMap(RepairHint::of).orElse(null));
    ArrayNode likeliest = node.putArray("causes");
    blamed.diagnosis().ifPresent(d -> CausesJson.write(likeliest, d));
    return node;
  }

  private static ObjectNode drift(Comparison.Drift d) {
    ObjectNode node = JSON.objectNode();
    node.put("unit_under_test", d.later().unit());
    node.put("earlier_run", d.earlier().run().id());
    node.put("later_run", d.later().run().id());
    what(node, d.what());
    node.put("change", d.change().value());
    node.put("standard_uncertainty", d.change().uncertainty().map(u -> u.standard()).orElse(null));
    node.put("expanded_uncertainty", d.change().uncertainty().map(u -> u.expanded()).orElse(null));
    node.put("moved", d.change().significant());
    ArrayNode cancelled = node.putArray("cancelled");
    d.change().cancelled().forEach(cancelled::add);
    return node;
  }

  private static ObjectNode contrast(Comparison c, Comparison.Contrast k) {
    ObjectNode node = JSON.objectNode();
    node.put("factor", k.group().factor().text());
    node.put("group", k.group().name());
    what(node, k.what());
    node.put("difference", k.comparison().difference());
    node.set("interval", interval(k.comparison().interval()));
    node.put("t", k.comparison().t());
    node.put("degrees_of_freedom", k.comparison().degreesOfFreedom());
    node.put("p", k.comparison().probability());
    node.put("differs", c.differs(k));
    node.put("in_one_stretch", k.inOneStretch());
    return node;
  }

  private static ObjectNode trend(Comparison c, Comparison.Drifting t) {
    ObjectNode node = JSON.objectNode();
    node.put("factor", t.group().map(g -> g.factor().text()).orElse(null));
    node.put("group", t.group().map(Comparison.Group::name).orElse(null));
    what(node, t.what());
    node.put("first_run", t.first().run().id());
    node.put("last_run", t.last().run().id());
    node.put("n", t.trend().n());
    node.put("change", t.trend().change());
    node.set("interval", interval(t.trend().interval()));
    node.put("p", t.trend().probability());
    node.put("drifts", c.drifts(t));
    return node;
  }

  private static @Nullable Double orNull(OptionalDouble value) {
    return value.isPresent() ? (Double) value.getAsDouble() : null;
  }

  private static ObjectNode gauge(Comparison.Gauge g) {
    ObjectNode node = JSON.objectNode();
    what(node, g.what());
    node.put("across", g.across().several());
    GaugeStudy.Components v = g.study().components();
    node.put("repeatability_variance", v.repeatability());
    node.put("operator_variance", v.operator());
    node.put("interaction_variance", v.interaction());
    node.put("unit_variance", v.unit());
    put(node, "intervals", g.intervals(), ComparisonJson::intervals);
    node.put("interaction_pooled", g.study().pooled());
    node.put("interaction_p", g.study().interactionProbability());
    node.put("tells_nothing_because", g.study().tellsNothing().orElse(null));
    node.put("share_of_study", g.study().ofStudy());
    node.put(
        "share_of_tolerance",
        g.limit()
            .map(l -> g.study().ofTolerance(l))
            .filter(s -> s.isPresent())
            .map(s -> s.getAsDouble())
            .orElse(null));
    node.put(
        "distinct_categories",
        g.study().distinctCategories().isPresent()
            ? (Double) g.study().distinctCategories().getAsDouble()
            : null);
    return node;
  }

  private static ObjectNode intervals(GaugeIntervals of) {
    ObjectNode node = JSON.objectNode();
    node.set("repeatability_sd", interval(of.repeatability()));
    node.set("reproducibility_sd", interval(of.reproducibility()));
    node.set("unit_sd", interval(of.units()));
    node.set("gauge_sd", interval(of.gauge()));
    node.set("distinct_categories", interval(of.distinctCategories()));
    return node;
  }

  private static ObjectNode setUp(Comparison c, Comparison.SetUpStudy s) {
    ObjectNode node = JSON.objectNode();
    node.put("run", s.run());
    node.put("range", s.range());
    node.put("load_ohm", s.loadOhm());
    node.put("connections", s.connectionsPpm().n());
    node.put("standard_deviation_ppm", orNull(s.connectionsPpm().scatter()));
    node.set("interval", interval(s.connectionsPpm().sdInterval(c.coverage())));
    node.put("noise_ppm", s.noisePpm());
    node.put("own_ppm", s.ownPpm());
    node.put("enough", s.connectionsPpm().enoughForReproducibility());
    return node;
  }
}
