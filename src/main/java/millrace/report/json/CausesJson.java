// SPDX-License-Identifier: Apache-2.0
package millrace.report.json;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import millrace.analysis.causes.Cause;
import millrace.analysis.causes.ErrorCauseDiagnosis;

/** Causes in the document of {@code analyze --json}. Every key is present, null if empty. */
final class CausesJson {
  private CausesJson() {}

  static void write(ArrayNode causes, ErrorCauseDiagnosis diagnosis) {
    diagnosis.causes().forEach(c -> causes.add(cause(c)));
  }

  private static ObjectNode cause(Cause cause) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("cause", cause.cause());
    node.put("of", cause.of().orElse(null));
    node.put("size", cause.size().map(Cause.Size::value).orElse(null));
    node.put("unit", cause.size().map(Cause.Size::unit).orElse(null));
    node.put(
        "standard_uncertainty", cause.size().map(Cause.Size::standardUncertainty).orElse(null));
    node.put(
        "expanded_uncertainty", cause.size().map(Cause.Size::expandedUncertainty).orElse(null));
    node.put("probability", cause.probability());
    ArrayNode same = node.putArray("not_separable_from");
    cause.notSeparableFrom().forEach(same::add);
    node.put("separated_by", cause.separatedBy().orElse(null));
    return node;
  }
}
