// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import millrace.document.Located;
import millrace.document.form.Form;
import millrace.document.form.Forms;
import millrace.document.form.MapForm;
import millrace.document.form.MapForm.Key;
import millrace.evidence.Direction;
import millrace.quantity.Dimension;
import millrace.sequence.MeasuringRules.SoakRule;

/** How steps are written: a map told by one of its keys, or a word alone. */
final class StepForms {
  private StepForms() {}

  static final Form<Step> STEP = Forms.defined("step", StepForms::step);

  private static final Form<List<Step>> STEPS = Forms.list(STEP, 1);

  private static Form<Step> step() {
    Map<String, Form<? extends Step>> kinds = new LinkedHashMap<>();
    kinds.put("at temperatures", temperatures());
    kinds.put("in ranges", sweep("in ranges", names("a range"), Over.RangesOf::new));
    kinds.put("in slots", sweep("in slots", names("a slot"), Over.Slots::new));
    kinds.put("over loads", loads());
    kinds.put(
        "at supply voltages",
        sweep("at supply voltages", ValueForms.from0(Dimension.VOLTAGE), Over.SupplyVoltages::new));
    kinds.put(
        "at set currents",
        sweep("at set currents", ValueForms.any(Dimension.CURRENT), Over.SetCurrents::new));
    kinds.putAll(TaskForms.TASKS);
    kinds.put("part", part());
    return Forms.scalarOr(TaskForms.WORD, Forms.byKey("a step", kinds));
  }

  private static Form<List<Located<String>>> names(String what) {
    return Forms.map(
        Forms.list(Forms.located(Forms.text(what + ", or all")), 1),
        list -> list.size() == 1 && list.get(0).value().equals("all") ? List.of() : list);
  }

  /** A sweep that has nothing to say beside its values. */
  private static <V> Form<Step> sweep(String key, Form<V> form, Function<V, Over> make) {
    MapForm.Builder map = MapForm.of("the step '" + key + "'");
    Key<V> values = map.required(key, form, "what it goes through, in order, or all");
    Function<MapForm.Values, RuleWords> rules = RuleForms.keys(map);
    Key<List<Step>> does = map.required("do", STEPS, "what is done at each");
    return map.reads(
        v -> new Step.Sweep(v.place(), make.apply(v.get(values)), rules.apply(v), v.get(does)));
  }

  private static Form<Step> temperatures() {
    MapForm.Builder map = MapForm.of("the step 'at temperatures'");
    Key<List<Double>> values =
        map.required(
            "at temperatures", ValueForms.any(Dimension.TEMPERATURE), "setpoints, in order");
    Key<Optional<Double>> ramp =
        map.optional(
            "ramp",
            Forms.where(
                Forms.quantity(Dimension.TEMPERATURE_RATE),
                r -> r > 0,
                "a rate above 0, as in '2 K/min'"),
            "fastest change; default as fast as the chamber can");
    Key<SoakRule> soak =
        map.optional("soak", RuleForms.SOAK, SoakRule.DEFAULT, "when the unit counts as there");
    Key<List<Step>> meanwhile =
        map.optional(
            "while it soaks",
            STEPS,
            List.of(),
            "what is done on the way: what hardly depends on temperature (zero, find the knee)");
    Function<MapForm.Values, RuleWords> rules = RuleForms.keys(map);
    Key<List<Step>> does = map.required("do", STEPS, "what is done at each");
    return map.reads(
        v ->
            new Step.Sweep(
                v.place(),
                new Over.Temperatures(v.get(values), v.get(ramp), v.get(soak), v.get(meanwhile)),
                rules.apply(v),
                v.get(does)));
  }

  private static Form<Step> loads() {
    MapForm.Builder map = MapForm.of("the step 'over loads'");
    Key<LoadValues> values = map.required("over loads", loadValues(), "which loads");
    Key<List<Direction>> directions =
        map.optional("sweep", directions(), both(), "up, down, both (default), or as listed");
    Function<MapForm.Values, RuleWords> rules = RuleForms.keys(map);
    Key<Optional<List<Step>>> does =
        map.optional("do", STEPS, "what is done at each; default measure");
    return map.reads(
        v ->
            new Step.Sweep(
                v.place(),
                new Over.Loads(v.get(values).kind(), v.get(values).values(), v.get(directions)),
                rules.apply(v),
                v.get(does).orElseGet(() -> List.of(TaskForms.measure(v.place())))));
  }

  private static List<Direction> both() {
    return List.of(Direction.UP, Direction.DOWN);
  }

  private static Form<List<Direction>> directions() {
    Map<String, List<Direction>> words = new LinkedHashMap<>();
    words.put("up", List.of(Direction.UP));
    words.put("down", List.of(Direction.DOWN));
    words.put("both", both());
    words.put("as listed", List.of());
    return Forms.choice(words);
  }

  /** The values of a load sweep and what they are. */
  private record LoadValues(Over.LoadKind kind, List<Double> values) {}

  private static Form<LoadValues> loadValues() {
    Map<String, Form<? extends LoadValues>> kinds = new LinkedHashMap<>();
    kinds.put(
        "resistance", loadValues("resistance", Dimension.RESISTANCE, Over.LoadKind.RESISTANCE));
    kinds.put("voltage", loadValues("voltage", Dimension.VOLTAGE, Over.LoadKind.VOLTAGE));
    kinds.put(
        "share of compliance",
        loadValues("share of compliance", Dimension.RATIO, Over.LoadKind.SHARE_OF_COMPLIANCE));
    return Forms.byKey("loads", kinds);
  }

  private static Form<LoadValues> loadValues(String key, Dimension dimension, Over.LoadKind kind) {
    MapForm.Builder map = MapForm.of("loads by " + key);
    Key<List<Double>> values =
        map.required(key, ValueForms.from0(dimension), "one, a list, or {from, to, points}");
    return map.reads(v -> new LoadValues(kind, v.get(values)));
  }

  private static Form<Step> part() {
    MapForm.Builder map = MapForm.of("the step 'part'");
    Key<String> file =
        map.required("part", Forms.text("a file"), "a sequence file, relative to this one");
    Function<MapForm.Values, RuleWords> rules = RuleForms.keys(map);
    return map.reads(v -> new Step.Part(v.place(), v.get(file), rules.apply(v)));
  }
}
