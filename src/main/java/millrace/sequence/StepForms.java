// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import millrace.document.LocatedValue;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.evidence.SweepDirection;
import millrace.quantity.Dimension;
import millrace.sequence.MeasuringRules.SoakRule;

/** How steps are written: a map whose kind follows from one of its keys, or a word alone. */
final class StepForms {
  private StepForms() {}

  static final YamlForm<Step> STEP = YamlForms.defined("step", StepForms::step);

  private static final YamlForm<List<Step>> STEPS = YamlForms.list(STEP, 1);

  private static YamlForm<Step> step() {
    Map<String, YamlForm<? extends Step>> kinds = new LinkedHashMap<>();
    kinds.put("at temperatures", temperatures());
    kinds.put("in ranges", sweep("in ranges", names("a range"), SweepVariable.RangesOf::new));
    kinds.put("in slots", sweep("in slots", names("a slot"), SweepVariable.Slots::new));
    kinds.put("over loads", loads());
    kinds.put(
        "at supply voltages",
        sweep(
            "at supply voltages",
            SweepValueForms.from0(Dimension.VOLTAGE),
            SweepVariable.SupplyVoltages::new));
    kinds.put(
        "at set currents",
        sweep(
            "at set currents",
            SweepValueForms.any(Dimension.CURRENT),
            SweepVariable.SetCurrents::new));
    kinds.putAll(TaskForms.TASKS);
    kinds.put("part", part());
    return YamlForms.scalarOr(TaskForms.WORD, YamlForms.byKey("a step", kinds));
  }

  private static YamlForm<List<LocatedValue<String>>> names(String what) {
    return YamlForms.map(
        YamlForms.list(YamlForms.located(YamlForms.text(what + ", or all")), 1),
        list -> list.size() == 1 && list.get(0).value().equals("all") ? List.of() : list);
  }

  /** A sweep without keys beside its values. */
  private static <V> YamlForm<Step> sweep(
      String key, YamlForm<V> form, Function<V, SweepVariable> make) {
    return YamlMapForm.of(
        "the step '" + key + "'",
        map ->
            new Step.Sweep(
                map.place(),
                make.apply(map.required(key, form, "what it goes through, in order, or all")),
                MeasuringRuleForms.of(map),
                map.required("do", STEPS, "what is done at each")));
  }

  private static YamlForm<Step> temperatures() {
    return YamlMapForm.of(
        "the step 'at temperatures'",
        map ->
            new Step.Sweep(
                map.place(),
                new SweepVariable.Temperatures(
                    map.required(
                        "at temperatures",
                        SweepValueForms.any(Dimension.TEMPERATURE),
                        "setpoints, in order"),
                    map.optional(
                        "ramp",
                        YamlForms.above0(
                            Dimension.TEMPERATURE_RATE, "a rate above 0, as in '2 K/min'"),
                        "fastest change; default as fast as the chamber can"),
                    map.optional(
                        "soak",
                        MeasuringRuleForms.SOAK,
                        SoakRule.DEFAULT,
                        "when the unit counts as there"),
                    map.optional(
                        "while it soaks",
                        STEPS,
                        List.of(),
                        "what is done on the way: what hardly depends on temperature (zero, find"
                            + " the knee)")),
                MeasuringRuleForms.of(map),
                map.required("do", STEPS, "what is done at each")));
  }

  private static YamlForm<Step> loads() {
    return YamlMapForm.of(
        "the step 'over loads'",
        map -> {
          LoadValues loads = map.required("over loads", loadValues(), "which loads");
          return new Step.Sweep(
              map.place(),
              new SweepVariable.Loads(
                  loads.kind(),
                  loads.values(),
                  map.optional(
                      "sweep", directions(), both(), "up, down, both (default), or as listed")),
              MeasuringRuleForms.of(map),
              map.optional(
                  "do",
                  STEPS,
                  List.of(TaskForms.measure(map.place())),
                  "what is done at each; default measure"));
        });
  }

  private static List<SweepDirection> both() {
    return List.of(SweepDirection.UP, SweepDirection.DOWN);
  }

  private static YamlForm<List<SweepDirection>> directions() {
    Map<String, List<SweepDirection>> words = new LinkedHashMap<>();
    words.put("up", List.of(SweepDirection.UP));
    words.put("down", List.of(SweepDirection.DOWN));
    words.put("both", both());
    words.put("as listed", List.of());
    return YamlForms.choice(words);
  }

  /** The values of a load sweep and what they are. */
  private record LoadValues(SweepVariable.LoadKind kind, List<Double> values) {}

  private static YamlForm<LoadValues> loadValues() {
    Map<String, YamlForm<? extends LoadValues>> kinds = new LinkedHashMap<>();
    kinds.put(
        "resistance",
        loadValues("resistance", Dimension.RESISTANCE, SweepVariable.LoadKind.RESISTANCE));
    kinds.put("voltage", loadValues("voltage", Dimension.VOLTAGE, SweepVariable.LoadKind.VOLTAGE));
    kinds.put(
        "share of compliance",
        loadValues(
            "share of compliance", Dimension.RATIO, SweepVariable.LoadKind.SHARE_OF_COMPLIANCE));
    return YamlForms.byKey("loads", kinds);
  }

  private static YamlForm<LoadValues> loadValues(
      String key, Dimension dimension, SweepVariable.LoadKind kind) {
    return YamlMapForm.of(
        "loads by " + key,
        map ->
            new LoadValues(
                kind,
                map.required(
                    key, SweepValueForms.from0(dimension), "one, a list, or {from, to, points}")));
  }

  private static YamlForm<Step> part() {
    return YamlMapForm.of(
        "the step 'part'",
        map ->
            new Step.Part(
                map.place(),
                map.required(
                    "part", YamlForms.text("a file"), "a sequence file, relative to this one"),
                MeasuringRuleForms.of(map)));
  }
}
