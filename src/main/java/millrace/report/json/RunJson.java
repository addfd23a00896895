// SPDX-License-Identifier: Apache-2.0
package millrace.report.json;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Map;
import millrace.evidence.Version;
import millrace.logbook.LatestRunVerdict;
import millrace.logbook.RunSummary;
import millrace.report.words.OverallVerdict;

/** JSON of runs, and conversion of JSON to text. */
public final class RunJson {
  private static final ObjectMapper MAPPER =
      new ObjectMapper().enable(SerializationFeature.INDENT_OUTPUT);

  private RunJson() {}

  /**
   * The document of {@code runs --json}.
   *
   * @param runs runs in the order of the list
   * @param verdicts latest verdicts, by run
   * @return JSON
   */
  public static String list(List<RunSummary> runs, Map<Long, LatestRunVerdict> verdicts) {
    ObjectNode document = JsonNodeFactory.instance.objectNode();
    document.put("millrace", Version.CURRENT);
    ArrayNode array = document.putArray("runs");
    runs.forEach(
        r ->
            array.add(
                judged(summary(r), verdicts.getOrDefault(r.id(), LatestRunVerdict.none(r.id())))));
    return text(document);
  }

  private static ObjectNode judged(ObjectNode node, LatestRunVerdict verdict) {
    node.put("outcome", OverallVerdict.word(verdict.limits()));
    verdict
        .failedFirst()
        .ifPresentOrElse(
            f ->
                node.putObject("failed_first")
                    .put("quantity", f.quantity().key())
                    .put("range", f.range().orElse(null)),
            () -> node.putNull("failed_first"));
    return node;
  }

  static ObjectNode summary(RunSummary r) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("run", r.id());
    node.put("run_uuid", r.uuid().toString());
    node.put("unit", r.start().unit());
    node.put("origin", r.start().origin().text());
    node.put("title", r.start().title());
    node.put("started_at", r.start().measuredAt().map(Object::toString).orElse(null));
    node.put("ended_at", r.endedAt().map(Object::toString).orElse(null));
    node.put("state", r.state().text());
    node.put("operator", r.start().people().operator().orElse(null));
    node.put("batch", r.start().people().batch().orElse(null));
    node.put("tag", r.start().people().tag().orElse(null));
    node.put("digest", r.digest().orElse(null));
    return node;
  }

  /**
   * A document as text, one key per line.
   *
   * @param document the document
   * @return JSON
   */
  public static String text(JsonNode document) {
    try {
      return MAPPER.writeValueAsString(document);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("a tree of plain values is always JSON", e);
    }
  }
}
