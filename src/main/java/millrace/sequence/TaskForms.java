package millrace.sequence;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.BiFunction;
import java.util.function.Function;
import millrace.document.Form;
import millrace.document.Forms;
import millrace.document.Located;
import millrace.document.MapForm;
import millrace.document.MapForm.Key;
import millrace.fault.Place;
import millrace.quantity.Dimension;
import millrace.sequence.SequenceFile.OnFailure;
import millrace.sequence.SequenceFile.ReadingRule;
import millrace.sequence.SequenceFile.SettleRule;

/** How tasks are written: a word alone, or a map told by the word. */
final class TaskForms {
  private TaskForms() {}

  private static final Map<String, Task> WORDS = words();

  private static Map<String, Task> words() {
    Map<String, Task> words = new LinkedHashMap<>();
    words.put("measure", new Task.Measure());
    words.put("zero", new Task.Zero());
    words.put("trial lap", new Task.TrialLap());
    words.put("source off", new Task.SourceOff());
    words.put("find the knee", new Task.FindKnee(0.05, 1.3));
    words.put("known resistor", new Task.KnownResistor(1e-3));
    return words;
  }

  /** A task that needs no words beside its name. */
  static final Form<Step> WORD =
      Forms.map(Forms.located(Forms.choice(WORDS)), found -> plain(found.place(), found.value()));

  private static Step plain(Place place, Task task) {
    return new Step.Do(place, task, Optional.empty(), Optional.empty(), Optional.empty());
  }

  static List<Step> measureAlone() {
    return List.of(plain(Place.of("(default)"), new Task.Measure()));
  }

  /** Gives the default step the place of the step that it stands in. */
  static List<Step> placed(List<Step> steps, Place place) {
    return steps.equals(measureAlone()) ? List.of(plain(place, new Task.Measure())) : steps;
  }

  static final Map<String, Form<? extends Step>> TASKS = tasks();

  private static Map<String, Form<? extends Step>> tasks() {
    Map<String, Form<? extends Step>> tasks = new LinkedHashMap<>();
    tasks.put("measure", ruled("measure", new Task.Measure()));
    tasks.put("zero", ruled("zero", new Task.Zero()));
    tasks.put("source off", ruled("source off", new Task.SourceOff()));
    tasks.put(
        "check standard",
        of("check standard", Forms.text("a standard's name"), Task.CheckStandard::new));
    tasks.put("find the knee", knee());
    tasks.put("watch", watch("watch", false));
    tasks.put("watch from power-on", watch("watch from power-on", true));
    tasks.put("known resistor", of("known resistor", within(), Task.KnownResistor::new));
    tasks.put("ask", of("ask", Forms.text("a question"), Task.Ask::new));
    tasks.put("wait", of("wait", Forms.quantity(Dimension.TIME), Task.Wait::new));
    return tasks;
  }

  private static Form<Double> within() {
    MapForm.Builder map = MapForm.of("a known resistor");
    Key<Double> within =
        map.optional("within", Forms.quantity(Dimension.RATIO), 1e-3, "how far off; default 0.1 %");
    return map.reads(v -> v.get(within));
  }

  /** A task whose key says how readings are taken; {@code measure: {count: 20}}. */
  private static Form<Step> ruled(String key, Task task) {
    return with(key, SequenceForms.readings(), (readings, place) -> task, Optional::of);
  }

  private static <V> Form<Step> of(String key, Form<V> form, Function<V, Task> make) {
    return with(key, form, (value, place) -> make.apply(value), value -> Optional.empty());
  }

  private static <V> Form<Step> with(
      String key,
      Form<V> form,
      BiFunction<V, Place, Task> make,
      Function<V, Optional<ReadingRule>> own) {
    MapForm.Builder map = MapForm.of("the step '" + key + "'");
    Key<Located<V>> what = map.required(key, Forms.located(form), "what is done");
    Key<Optional<ReadingRule>> readings =
        map.optional("readings", SequenceForms.readings(), "where they differ");
    Key<Optional<SettleRule>> settle =
        map.optional("settle", SequenceForms.settle(), "where it differs");
    Key<Optional<OnFailure>> failure =
        map.optional("on failure", SequenceForms.onFailure(), "where it differs");
    return map.reads(
        v ->
            new Step.Do(
                v.place(),
                make.apply(v.get(what).value(), v.place()),
                own.apply(v.get(what).value()).or(() -> v.get(readings)),
                v.get(settle),
                v.get(failure)));
  }

  private static Form<Step> knee() {
    MapForm.Builder map = MapForm.of("a knee search");
    Key<Double> resolution =
        map.optional("to", Forms.quantity(Dimension.VOLTAGE), 0.05, "bracket; default 50 mV");
    Key<Double> share =
        map.optional(
            "up to", Forms.quantity(Dimension.RATIO), 1.3, "of the compliance; default 130 %");
    return of(
        "find the knee",
        map.reads(v -> new Task.FindKnee(v.get(resolution), v.get(share))),
        task -> task);
  }

  private static Form<Step> watch(String key, boolean fromPowerOn) {
    MapForm.Builder map = MapForm.of("readings over time");
    Key<Double> span = map.required("for", Forms.quantity(Dimension.TIME), "how long");
    Key<Double> every =
        map.optional("every", Forms.quantity(Dimension.TIME), 0.0, "default as fast as it can");
    return of(
        key, map.reads(v -> new Task.Watch(v.get(span), v.get(every), fromPowerOn)), task -> task);
  }
}
