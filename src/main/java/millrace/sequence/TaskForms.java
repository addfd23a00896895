// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.Function;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
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
    tasks.put("ask", AskForms.ask());
    tasks.put("wait", task("wait", MeasuringRuleForms.SPAN_ABOVE_0, Task.Wait::new));
    return tasks;
  }

  /** A task whose key states how readings are taken; {@code measure: {count: 20}}. */
  private static YamlForm<Step> counted(String key, Task task) {
    return YamlMapForm.of(
        "the step '" + key + "'",
        map ->
            new Step.Do(
                map.place(),
                task,
                MeasuringRuleForms.of(
                    map.required(key, MeasuringRuleForms.READINGS, "how readings are taken"),
                    map)));
  }

  private static <V> YamlForm<Step> task(String key, YamlForm<V> form, Function<V, Task> make) {
    return YamlMapForm.of(
        "the step '" + key + "'",
        map ->
            new Step.Do(
                map.place(),
                make.apply(map.required(key, form, "what is done")),
                MeasuringRuleForms.of(map)));
  }

  private static YamlForm<Task> lap() {
    return YamlMapForm.of(
        "a trial lap",
        map ->
            new Task.TrialLap(
                map.required(
                    "ask about slots",
                    YamlForms.yesNo(),
                    "whether a person is asked to switch one unit off after another; without,"
                        + " no")));
  }

  private static YamlForm<Task> resistor() {
    return YamlMapForm.of(
        "a known resistor",
        map ->
            new Task.KnownResistor(
                map.optional(
                    "within",
                    MeasuringRuleForms.RATIO_ABOVE_0,
                    Task.KnownResistor.USUAL.withinRatio(),
                    "how far voltage over current may be off; default 0.1 %")));
  }

  private static YamlForm<Task> knee() {
    Task.FindKnee usual = Task.FindKnee.USUAL;
    return YamlMapForm.of(
        "a knee search",
        map ->
            new Task.FindKnee(
                map.optional(
                    "to",
                    YamlForms.above0(Dimension.VOLTAGE, "a voltage above 0 V"),
                    usual.resolutionV(),
                    "how narrow the bracket gets; default 50 mV"),
                map.optional(
                    "up to",
                    MeasuringRuleForms.RATIO_ABOVE_0,
                    usual.highestShare(),
                    "highest load, of the datasheet's compliance; default 130 %")));
  }

  private static YamlForm<Task.Watch> watch(boolean fromPowerOn) {
    YamlForm<Task.Watch> watch =
        YamlMapForm.of(
            "readings over time",
            map ->
                new Task.Watch(
                    map.optional(
                        "for",
                        MeasuringRuleForms.SPAN_ABOVE_0,
                        "how long; default as long as the run has taken until then, with 'if it"
                            + " ends within'"),
                    map.optional(
                        "every", MeasuringRuleForms.SPAN, 0.0, "default as fast as the meter can"),
                    fromPowerOn,
                    map.optional(
                        "if it ends within",
                        MeasuringRuleForms.SPAN_ABOVE_0,
                        "of the start of the run; else it is passed over")));
    return YamlForms.where(
        watch,
        w -> w.forS().isPresent() || w.withinS().isPresent(),
        "'for', or 'if it ends within'");
  }
}
