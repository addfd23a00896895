// SPDX-License-Identifier: Apache-2.0
package millrace.report.json;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Optional;
import millrace.evidence.Version;
import millrace.planning.LimitForecast;

/** Document of {@code preview --json}. Every key is present, null if empty. */
public final class ForecastJson {
  private static final JsonNodeFactory JSON = JsonNodeFactory.instance;

  private ForecastJson() {}

  /**
   * The subject of the preview.
   *
   * @param title of the sequence
   * @param bench name of the bench
   * @param simulated whether the bench is simulated
   * @param points number of points in the plan
   * @param durationS duration of the run, s
   */
  public record Previewed(
      String title, String bench, boolean simulated, int points, double durationS) {}

  /**
   * The expected effect of adaptive stopping.
   *
   * @param expectedS duration of the run if the unit is as expected, s; empty if not computed
   * @param changes changes of the plan, one line each
   */
  public record Adaptive(Optional<Double> expectedS, List<String> changes) {}

  /**
   * The document.
   *
   * @param what the subject of the preview
   * @param limits forecast for each limit; empty if not asked for
   * @param missing the reason why the forecast could not be computed; empty if it was
   * @param adaptive the effect of adaptive stopping; empty for a run with a fixed plan
   * @return the document
   */
  public static ObjectNode of(
      Previewed what,
      List<LimitForecast> limits,
      Optional<String> missing,
      Optional<Adaptive> adaptive) {
    ObjectNode document = JSON.objectNode();
    document.put("millrace", Version.CURRENT);
    document.put("title", what.title());
    document.put("bench", what.bench());
    document.put("origin", what.simulated() ? "simulated" : "bench");
    document.put("points", what.points());
    document.put("duration_s", what.durationS());
    document.put("decided", limits.stream().filter(LimitForecast::isDecided).count());
    document.put("missing", missing.orElse(null));
    adaptive.ifPresentOrElse(
        a -> {
          ObjectNode node = document.putObject("adaptive");
          node.put("expected_duration_s", a.expectedS().orElse(null));
          node.put("longest_duration_s", what.durationS());
          ArrayNode changes = node.putArray("changes");
          a.changes().forEach(changes::add);
        },
        () -> document.putNull("adaptive"));
    ArrayNode all = document.putArray("limits");
    limits.forEach(l -> all.add(limit(l)));
    return document;
  }

  static ObjectNode limit(LimitForecast limit) {
    ObjectNode node = JSON.objectNode();
    node.put("answer", limit.answer().text());
    if (limit.largest().isPresent()) {
      LimitForecast.Share share = limit.largest().get();
      ObjectNode largest = node.putObject("largest");
      largest.put("component", share.component());
      largest.put("share", share.share());
      largest.put("owner", share.owner().orElse(null));
    } else {
      node.putNull("largest");
    }
    node.put("largest_U", limit.largestU().orElse(null));
    node.put("remedy", limit.remedy().orElse(null));
    node.set("result", AnalysisJson.result(limit.result()));
    return node;
  }
}
