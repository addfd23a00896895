// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.evidence.Conditions;
import millrace.sequence.Plan.TemperatureRule;

/**
 * What the steps around a step have settled.
 *
 * @param path the key of each sweep around it by what it goes through, outermost first
 * @param conditions what they set
 * @param temperature how the temperature is reached; empty where none is asked for
 * @param rules what counts of readings, settling and failure
 */
record Scope(
    Map<String, String> path,
    Conditions conditions,
    Optional<TemperatureRule> temperature,
    MeasuringRules rules) {
  static final Scope START =
      new Scope(Map.of(), Conditions.NONE, Optional.empty(), MeasuringRules.DEFAULT);

  Scope with(String what, String key, Conditions next) {
    Map<String, String> longer = new LinkedHashMap<>(path);
    longer.put(what, key);
    return new Scope(longer, next, temperature, rules);
  }

  Scope with(TemperatureRule rule) {
    return new Scope(path, conditions, Optional.of(rule), rules);
  }

  /** The same on the way to the temperature. */
  Scope whileSoaking() {
    TemperatureRule rule = temperature.orElseThrow().whileSoaking();
    return with(rule).with("soak", "while it soaks", conditions);
  }

  /** The same under more rules; an {@link IllegalArgumentException} if they do not go together. */
  Scope with(RuleWords words) {
    return words.equals(RuleWords.NONE)
        ? this
        : new Scope(path, conditions, temperature, words.over(rules));
  }

  List<String> keys() {
    return List.copyOf(path.values());
  }
}
