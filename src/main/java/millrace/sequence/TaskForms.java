// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.document.form.YamlMapForm.Key;
import millrace.fault.FilePlace;
import millrace.quantity.Dimension;

/** How tasks are written: a word alone, or a map told by the word. */
final class TaskForms {
  private TaskForms() {}

  /** A task that needs no words beside its name. */
  static final YamlForm<Step> WORD =
      YamlForms.map(
          YamlForms.located(YamlForms.choice(words())),
          found -> new Step.Do(found.place(), found.value(), MeasuringRuleOverrides.NONE));

  static final Map<String, YamlForm<? extends Step>> TASKS = tasks();

  private static Map<String, Task> words() {
    Map<String, Task> words = new LinkedHashMap<>();
    words.put("measure", new Task.Measure());
    words.put("zero", new Task.Zero());
    words.put("trial lap", Task.TrialLap.USUAL);
    words.put("source off", new Task.SourceOff());
    words.put("find the knee", Task.FindKnee.USUAL);
    words.put("known resistor", Task.KnownResistor.USUAL);
    return words;
  }

  static Step measure(FilePlace place) {
    return new Step.Do(place, new Task.Measure(), MeasuringRuleOverrides.NONE);
  }

  private static Map<String, YamlForm<? extends Step>> tasks() {
    Map<String, YamlForm<? extends Step>> tasks = new LinkedHashMap<>();
    tasks.put("measure", counted("measure", new Task.Measure()));
    tasks.put("zero", counted("zero", new Task.Zero()));
    tasks.put("source off", counted("source off", new Task.SourceOff()));
    tasks.put(
        "check standard",
        task(
            "check standard",
            YamlForms.text("a standard's name, or all"),
            Task.CheckStandard::new));
    tasks.put("find the knee", task("find the knee", knee(), t -> t));
    tasks.put("watch", task("watch", watch(false), t -> t));
    tasks.put("watch from power-on", task("watch from power-on", watch(true), t -> t));
    tasks.put("trial lap", task("trial lap", lap(), t -> t));
    tasks.put("known resistor", task("known resistor", resistor(), t -> t));
    tasks.put("ask", task("ask", YamlForms.text("a question"), Task.Ask::new));
    tasks.put("wait", task("wait", MeasuringRuleForms.SPAN_ABOVE_0, Task.Wait::new));
    return tasks;
  }

  /** A task whose key says how readings are taken; {@code measure: {count: 20}}. */
  private static YamlForm<Step> counted(String key, Task task) {
    YamlMapForm.Builder map = YamlMapForm.of("the step '" + key + "'");
    Key<MeasuringRuleOverrides.Reading> readings =
        map.required(key, MeasuringRuleForms.READINGS, "how readings are taken");
    Function<YamlMapForm.Values, MeasuringRuleOverrides> rules =
        MeasuringRuleForms.withoutReadings(map);
    return map.reads(
        v -> {
          MeasuringRuleOverrides rest = rules.apply(v);
          return new Step.Do(
              v.place(),
              task,
              new MeasuringRuleOverrides(v.get(readings), rest.settle(), rest.onFailure()));
        });
  }

  private static <V> YamlForm<Step> task(String key, YamlForm<V> form, Function<V, Task> make) {
    YamlMapForm.Builder map = YamlMapForm.of("the step '" + key + "'");
    Key<V> what = map.required(key, form, "what is done");
    Function<YamlMapForm.Values, MeasuringRuleOverrides> rules = MeasuringRuleForms.keys(map);
    return map.reads(v -> new Step.Do(v.place(), make.apply(v.get(what)), rules.apply(v)));
  }

  private static YamlForm<Task> lap() {
    YamlMapForm.Builder map = YamlMapForm.of("a trial lap");
    Key<Boolean> slots =
        map.required(
            "ask about slots",
            YamlForms.yesNo(),
            "whether a person is asked to switch one unit off after another; without, no");
    return map.reads(v -> new Task.TrialLap(v.get(slots)));
  }

  private static YamlForm<Task> resistor() {
    YamlMapForm.Builder map = YamlMapForm.of("a known resistor");
    Key<Double> within =
        map.optional(
            "within",
            MeasuringRuleForms.RATIO_ABOVE_0,
            Task.KnownResistor.USUAL.withinRatio(),
            "how far voltage over current may be off; default 0.1 %");
    return map.reads(v -> new Task.KnownResistor(v.get(within)));
  }

  private static YamlForm<Task> knee() {
    Task.FindKnee usual = Task.FindKnee.USUAL;
    YamlMapForm.Builder map = YamlMapForm.of("a knee search");
    Key<Double> resolution =
        map.optional(
            "to",
            YamlForms.where(
                YamlForms.quantity(Dimension.VOLTAGE), v -> v > 0, "a voltage above 0 V"),
            usual.resolutionV(),
            "how narrow the bracket gets; default 50 mV");
    Key<Double> share =
        map.optional(
            "up to",
            MeasuringRuleForms.RATIO_ABOVE_0,
            usual.highestShare(),
            "highest load, of the datasheet's compliance; default 130 %");
    return map.reads(v -> new Task.FindKnee(v.get(resolution), v.get(share)));
  }

  private static YamlForm<Task> watch(boolean fromPowerOn) {
    YamlMapForm.Builder map = YamlMapForm.of("readings over time");
    Key<Optional<Double>> span =
        map.optional(
            "for",
            MeasuringRuleForms.SPAN_ABOVE_0,
            "how long; default as long as the run has taken until then, with 'if it ends within'");
    Key<Double> every =
        map.optional("every", MeasuringRuleForms.SPAN, 0.0, "default as fast as the meter can");
    Key<Optional<Double>> within =
        map.optional(
            "if it ends within",
            MeasuringRuleForms.SPAN_ABOVE_0,
            "of the start of the run; else it is passed over");
    return YamlForms.where(
        map.reads(v -> new Task.Watch(v.get(span), v.get(every), fromPowerOn, v.get(within))),
        w -> ((Task.Watch) w).forS().isPresent() || ((Task.Watch) w).withinS().isPresent(),
        "'for', or 'if it ends within'");
  }
}
