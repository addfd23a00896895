// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import millrace.document.form.Form;
import millrace.document.form.Forms;
import millrace.document.form.MapForm;
import millrace.document.form.MapForm.Key;
import millrace.fault.Place;
import millrace.quantity.Dimension;

/** How tasks are written: a word alone, or a map told by the word. */
final class TaskForms {
  private TaskForms() {}

  /** A task that needs no words beside its name. */
  static final Form<Step> WORD =
      Forms.map(
          Forms.located(Forms.choice(words())),
          found -> new Step.Do(found.place(), found.value(), RuleWords.NONE));

  static final Map<String, Form<? extends Step>> TASKS = tasks();

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

  static Step measure(Place place) {
    return new Step.Do(place, new Task.Measure(), RuleWords.NONE);
  }

  private static Map<String, Form<? extends Step>> tasks() {
    Map<String, Form<? extends Step>> tasks = new LinkedHashMap<>();
    tasks.put("measure", counted("measure", new Task.Measure()));
    tasks.put("zero", counted("zero", new Task.Zero()));
    tasks.put("source off", counted("source off", new Task.SourceOff()));
    tasks.put(
        "check standard",
        task("check standard", Forms.text("a standard's name, or all"), Task.CheckStandard::new));
    tasks.put("find the knee", task("find the knee", knee(), t -> t));
    tasks.put("watch", task("watch", watch(false), t -> t));
    tasks.put("watch from power-on", task("watch from power-on", watch(true), t -> t));
    tasks.put("trial lap", task("trial lap", lap(), t -> t));
    tasks.put("known resistor", task("known resistor", resistor(), t -> t));
    tasks.put("ask", task("ask", Forms.text("a question"), Task.Ask::new));
    tasks.put("wait", task("wait", RuleForms.SPAN_ABOVE_0, Task.Wait::new));
    return tasks;
  }

  /** A task whose key says how readings are taken; {@code measure: {count: 20}}. */
  private static Form<Step> counted(String key, Task task) {
    MapForm.Builder map = MapForm.of("the step '" + key + "'");
    Key<RuleWords.Reading> readings =
        map.required(key, RuleForms.READINGS, "how readings are taken");
    Function<MapForm.Values, RuleWords> rules = RuleForms.withoutReadings(map);
    return map.reads(
        v -> {
          RuleWords rest = rules.apply(v);
          return new Step.Do(
              v.place(), task, new RuleWords(v.get(readings), rest.settle(), rest.onFailure()));
        });
  }

  private static <V> Form<Step> task(String key, Form<V> form, Function<V, Task> make) {
    MapForm.Builder map = MapForm.of("the step '" + key + "'");
    Key<V> what = map.required(key, form, "what is done");
    Function<MapForm.Values, RuleWords> rules = RuleForms.keys(map);
    return map.reads(v -> new Step.Do(v.place(), make.apply(v.get(what)), rules.apply(v)));
  }

  private static Form<Task> lap() {
    MapForm.Builder map = MapForm.of("a trial lap");
    Key<Boolean> slots =
        map.required(
            "ask about slots",
            Forms.yesNo(),
            "whether a person is asked to switch one unit off after another; without, no");
    return map.reads(v -> new Task.TrialLap(v.get(slots)));
  }

  private static Form<Task> resistor() {
    MapForm.Builder map = MapForm.of("a known resistor");
    Key<Double> within =
        map.optional(
            "within",
            RuleForms.RATIO_ABOVE_0,
            Task.KnownResistor.USUAL.withinRatio(),
            "how far voltage over current may be off; default 0.1 %");
    return map.reads(v -> new Task.KnownResistor(v.get(within)));
  }

  private static Form<Task> knee() {
    Task.FindKnee usual = Task.FindKnee.USUAL;
    MapForm.Builder map = MapForm.of("a knee search");
    Key<Double> resolution =
        map.optional(
            "to",
            Forms.where(Forms.quantity(Dimension.VOLTAGE), v -> v > 0, "a voltage above 0 V"),
            usual.resolutionV(),
            "how narrow the bracket gets; default 50 mV");
    Key<Double> share =
        map.optional(
            "up to",
            RuleForms.RATIO_ABOVE_0,
            usual.highestShare(),
            "highest load, of the datasheet's compliance; default 130 %");
    return map.reads(v -> new Task.FindKnee(v.get(resolution), v.get(share)));
  }

  private static Form<Task> watch(boolean fromPowerOn) {
    MapForm.Builder map = MapForm.of("readings over time");
    Key<Optional<Double>> span =
        map.optional(
            "for",
            RuleForms.SPAN_ABOVE_0,
            "how long; default as long as the run has taken until then, with 'if it ends within'");
    Key<Double> every =
        map.optional("every", RuleForms.SPAN, 0.0, "default as fast as the meter can");
    Key<Optional<Double>> within =
        map.optional(
            "if it ends within",
            RuleForms.SPAN_ABOVE_0,
            "of the start of the run; else it is passed over");
    return Forms.where(
        map.reads(v -> new Task.Watch(v.get(span), v.get(every), fromPowerOn, v.get(within))),
        w -> ((Task.Watch) w).forS().isPresent() || ((Task.Watch) w).withinS().isPresent(),
        "'for', or 'if it ends within'");
  }
}
