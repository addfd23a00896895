// SPDX-License-Identifier: Apache-2.0
package millrace.report.json;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.OptionalDouble;
import millrace.assessment.benches.BenchHistory;
import millrace.assessment.benches.BenchHistory.Check;
import millrace.assessment.benches.BenchHistory.Span;
import millrace.assessment.benches.BenchHistory.Week;
import millrace.evidence.Version;
import millrace.logbook.RunSummary;

/** Document of {@code bench history --json}. Every key is present, null if empty. */
public final class BenchHistoryJson {
  private static final JsonNodeFactory JSON = JsonNodeFactory.instance;

  private BenchHistoryJson() {}

  /**
   * The document.
   *
   * @param benches all benches
   * @return the document
   */
  public static ObjectNode of(List<BenchHistory> benches) {
    ObjectNode document = JSON.objectNode();
    document.put("millrace", Version.CURRENT);
    ArrayNode array = document.putArray("benches");
    benches.forEach(b -> bench(array.addObject(), b));
    return document;
  }

  private static void bench(ObjectNode node, BenchHistory bench) {
    node.put("bench", bench.bench());
    node.put("set_up", bench.setUp());
    node.put("by", bench.by().text());
    node.put("reference", bench.reference());
    node.put("out", bench.isOut());
    ArrayNode checks = node.putArray("checks");
    for (Check check : bench.checks()) {
      ObjectNode one = checks.addObject();
      run(one, check.run());
      one.put("good", check.good());
      ArrayNode findings = one.putArray("findings");
      check.findings().forEach(findings::add);
      number(one, "share", check.share());
      number(one, "ppm", check.ppm());
      one.put("not_judged", check.open().orElse(null));
    }
    weeks(node.putArray("weeks"), bench);
    ArrayNode spans = node.putArray("out_spans");
    for (Span span : bench.spans()) {
      ObjectNode one = spans.addObject();
      one.put("last_good_run", span.lastGood().map(c -> c.run().id()).orElse(null));
      one.put("first_out_run", span.firstOut().run().id());
      one.put("next_good_run", span.nextGood().map(c -> c.run().id()).orElse(null));
      ArrayNode recall = one.putArray("recall");
      span.recall().forEach(r -> run(recall.addObject(), r));
    }
  }

  private static void weeks(ArrayNode weeks, BenchHistory bench) {
    for (Week week : bench.weeks()) {
      ObjectNode one = weeks.addObject();
      one.put("week_of", week.monday().toString());
      one.put("checks", week.checks());
      one.put("out", week.out());
      number(one, "share", week.share());
      number(one, "ppm", week.ppm());
    }
  }

  private static void number(ObjectNode node, String key, OptionalDouble value) {
    node.put(key, value.isPresent() ? (Double) value.getAsDouble() : null);
  }

  private static void run(ObjectNode node, RunSummary run) {
    node.put("run", run.id());
    node.put("run_uuid", run.uuid().toString());
    node.put("unit", run.start().unit());
    node.put("started_at", run.start().startedAt().toString());
  }
}
