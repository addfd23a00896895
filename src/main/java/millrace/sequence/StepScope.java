// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.evidence.PointConditions;
import millrace.sequence.Plan.TemperatureRule;

/**
 * The conditions and rules that the steps around a step have set.
 *
 * @param path the key of each sweep around it by what it goes through, outermost first
 * @param conditions what they set
 * @param temperature how the temperature is reached; empty where none is asked for
 * @param rules the rules of readings, settling and failure that apply
 */
record StepScope(
    Map<String, String> path,
    PointConditions conditions,
    Optional<TemperatureRule> temperature,
    MeasuringRules rules) {
  static final StepScope START =
      new StepScope(Map.of(), PointConditions.NONE, Optional.empty(), MeasuringRules.DEFAULT);

  StepScope with(String what, String key, PointConditions next) {
    Map<String, String> longer = new LinkedHashMap<>(path);
    longer.put(what, key);
    return new StepScope(longer, next, temperature, rules);
  }

  StepScope with(TemperatureRule rule) {
    return new StepScope(path, conditions, Optional.of(rule), rules);
  }

  /** The same on the way to the temperature. */
  StepScope whileSoaking() {
    TemperatureRule rule = temperature.orElseThrow().whileSoaking();
    return with(rule).with("soak", "while it soaks", conditions);
  }

  /** The same under more rules; an {@link IllegalArgumentException} if they do not go together. */
  StepScope with(MeasuringRuleOverrides words) {
    return words.equals(MeasuringRuleOverrides.NONE)
        ? this
        : new StepScope(path, conditions, temperature, words.over(rules));
  }

  List<String> keys() {
    return List.copyOf(path.values());
  }
}
