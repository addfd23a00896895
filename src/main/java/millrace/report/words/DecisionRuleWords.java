// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import java.util.List;
import java.util.stream.Collectors;
import millrace.evidence.DecisionRule;
import millrace.evidence.Result;
import millrace.quantity.NumberText;

/** Decision rules in words. */
public final class DecisionRuleWords {
  private DecisionRuleWords() {}

  /** The decision rules of the results, one sentence each. */
  public static String of(List<Result> judged) {
    return judged.stream()
        .map(r -> rule(r.judgement().orElseThrow().rule()))
        .distinct()
        .collect(Collectors.joining(" "));
  }

  private static String rule(DecisionRule rule) {
    String guard = NumberText.print(rule.guardFactor()) + " U";
    return switch (rule.kind()) {
      case SIMPLE ->
          "Rule: simple acceptance; the value alone decides, its uncertainty is not counted"
              + " against the limit.";
      case GUARDED ->
          "Rule: guarded acceptance; a result passes only where it keeps a guard band of "
              + guard
              + " from its limit.";
      case GUARDED_FOUR_OUTCOMES ->
          "Rule: guarded acceptance with four outcomes; within a guard band of "
              + guard
              + " on either side of its limit a result passes or fails conditionally.";
    };
  }
}
