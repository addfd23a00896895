package millrace.sequence;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import millrace.document.Form;
import millrace.document.Forms;
import millrace.document.Located;
import millrace.document.MapForm;
import millrace.document.MapForm.Key;
import millrace.evidence.Direction;
import millrace.quantity.Dimension;
import millrace.sequence.SequenceFile.OnFailure;
import millrace.sequence.SequenceFile.SoakRule;

/** How steps are written: a map told by one of its keys, or a word alone. */
final class StepForms {
  private StepForms() {}

  static final Form<Step> STEP = Forms.defined("step", StepForms::step);

  private static final Form<List<Step>> STEPS = Forms.list(STEP, 1);

  private static Form<Step> step() {
    Map<String, Form<? extends Step>> kinds = new LinkedHashMap<>();
    kinds.put("at temperatures", temperatures());
    kinds.put("in ranges", ranges());
    kinds.put("in slots", slots());
    kinds.put("over loads", loads());
    kinds.put("at supply voltages", supplies());
    kinds.put("at set currents", setCurrents());
    kinds.putAll(TaskForms.TASKS);
    kinds.put("part", part());
    return Forms.scalarOr(TaskForms.WORD, Forms.byKey("a step", kinds));
  }

  /** The same step with other steps inside. */
  static Step withInner(Step step, Function<List<Step>, List<Step>> inner) {
    if (step instanceof Step.Temperatures s) {
      return new Step.Temperatures(
          s.place(), s.temperatureDegC(), s.rampKPerS(), s.soak(), inner.apply(s.does()));
    } else if (step instanceof Step.RangesOf s) {
      return new Step.RangesOf(s.place(), s.names(), inner.apply(s.does()));
    } else if (step instanceof Step.Slots s) {
      return new Step.Slots(s.place(), s.names(), inner.apply(s.does()));
    } else if (step instanceof Step.Loads s) {
      return new Step.Loads(s.place(), s.kind(), s.values(), s.directions(), inner.apply(s.does()));
    } else if (step instanceof Step.SupplyVoltages s) {
      return new Step.SupplyVoltages(s.place(), s.supplyV(), inner.apply(s.does()));
    } else if (step instanceof Step.SetCurrents s) {
      return new Step.SetCurrents(s.place(), s.setA(), inner.apply(s.does()));
    }
    return step;
  }

  private static Form<Step> temperatures() {
    MapForm.Builder map = MapForm.of("a step over temperatures");
    Key<List<Double>> values =
        map.required(
            "at temperatures", values(Dimension.TEMPERATURE, v -> true, ""), "setpoints, in order");
    Key<Optional<Double>> ramp =
        map.optional(
            "ramp",
            Forms.where(
                Forms.quantity(Dimension.TEMPERATURE_RATE), r -> r > 0, "a rate above 0 K/min"),
            "fastest change");
    Key<SoakRule> soak = map.optional("soak", soak(), SoakRule.DEFAULT, "when it is there");
    Key<List<Step>> does = map.required("do", STEPS, "what is done at each");
    return map.reads(
        v ->
            new Step.Temperatures(v.place(), v.get(values), v.get(ramp), v.get(soak), v.get(does)));
  }

  private static Form<SoakRule> soak() {
    SoakRule usual = SoakRule.DEFAULT;
    MapForm.Builder map = MapForm.of("a soak rule");
    Key<Double> within =
        map.optional(
            "within", Forms.quantity(Dimension.RATIO), usual.withinRatio(), "default 2 ppm");
    Key<Double> least =
        map.optional("at least", Forms.quantity(Dimension.TIME), usual.leastS(), "default 10 min");
    Key<Double> most =
        map.optional("at most", Forms.quantity(Dimension.TIME), usual.mostS(), "default 3 h");
    Key<OnFailure> hit =
        map.optional(
            "if it takes longer", SequenceForms.onFailure(), usual.whenBoundHit(), "go on flagged");
    Key<Double> every =
        map.optional("look every", Forms.quantity(Dimension.TIME), usual.everyS(), "default 30 s");
    return map.reads(
        v -> new SoakRule(v.get(within), v.get(least), v.get(most), v.get(hit), v.get(every)));
  }

  private static Form<List<Located<String>>> names(String what) {
    return Forms.map(
        Forms.list(Forms.located(Forms.text(what + ", or all")), 1),
        list -> list.size() == 1 && list.get(0).value().equals("all") ? List.of() : list);
  }

  private static Form<Step> ranges() {
    MapForm.Builder map = MapForm.of("a step over ranges");
    Key<List<Located<String>>> names =
        map.required("in ranges", names("a range"), "their names, or all");
    Key<List<Step>> does = map.required("do", STEPS, "what is done in each");
    return map.reads(v -> new Step.RangesOf(v.place(), v.get(names), v.get(does)));
  }

  private static Form<Step> slots() {
    MapForm.Builder map = MapForm.of("a step over slots");
    Key<List<Located<String>>> names =
        map.required("in slots", names("a slot"), "their names, or all");
    Key<List<Step>> does = map.required("do", STEPS, "what is done in each");
    return map.reads(v -> new Step.Slots(v.place(), v.get(names), v.get(does)));
  }

  private static Form<Step> supplies() {
    MapForm.Builder map = MapForm.of("a step over supply voltages");
    Key<List<Double>> values =
        map.required(
            "at supply voltages",
            values(Dimension.VOLTAGE, v -> v >= 0, "0 V or more"),
            "voltages");
    Key<List<Step>> does = map.required("do", STEPS, "what is done at each");
    return map.reads(v -> new Step.SupplyVoltages(v.place(), v.get(values), v.get(does)));
  }

  private static Form<Step> setCurrents() {
    MapForm.Builder map = MapForm.of("a step over set currents");
    Key<List<Double>> values =
        map.required("at set currents", values(Dimension.CURRENT, v -> true, ""), "currents");
    Key<List<Step>> does = map.required("do", STEPS, "what is done at each");
    return map.reads(v -> new Step.SetCurrents(v.place(), v.get(values), v.get(does)));
  }

  private static Form<Step> part() {
    MapForm.Builder map = MapForm.of("a part");
    Key<String> file = map.required("part", Forms.text("a file"), "a sequence file");
    return map.reads(v -> new Step.Part(v.place(), v.get(file)));
  }

  private static Form<Step> loads() {
    MapForm.Builder map = MapForm.of("a step over loads");
    Key<LoadValues> values = map.required("over loads", loadValues(), "which loads");
    Key<List<Direction>> directions =
        map.optional("sweep", directions(), both(), "up, down, or both (default)");
    Key<List<Step>> does =
        map.optional("do", STEPS, TaskForms.measureAlone(), "what is done; default measure");
    return map.reads(
        v ->
            new Step.Loads(
                v.place(),
                v.get(values).kind(),
                v.get(values).values(),
                v.get(directions),
                TaskForms.placed(v.get(does), v.place())));
  }

  private static List<Direction> both() {
    return List.of(Direction.UP, Direction.DOWN);
  }

  private static Form<List<Direction>> directions() {
    Map<String, List<Direction>> words = new LinkedHashMap<>();
    words.put("up", List.of(Direction.UP));
    words.put("down", List.of(Direction.DOWN));
    words.put("both", both());
    return Forms.choice(words);
  }

  /** The values of a load sweep and what they are. */
  private record LoadValues(Step.LoadKind kind, List<Double> values) {}

  private static Form<LoadValues> loadValues() {
    Map<String, Form<? extends LoadValues>> kinds = new LinkedHashMap<>();
    kinds.put(
        "resistance", loadValues("resistance", Dimension.RESISTANCE, Step.LoadKind.RESISTANCE));
    kinds.put("voltage", loadValues("voltage", Dimension.VOLTAGE, Step.LoadKind.VOLTAGE));
    kinds.put(
        "share of compliance",
        loadValues("share of compliance", Dimension.RATIO, Step.LoadKind.SHARE_OF_COMPLIANCE));
    return Forms.byKey("loads", kinds);
  }

  private static Form<LoadValues> loadValues(String key, Dimension dimension, Step.LoadKind kind) {
    MapForm.Builder map = MapForm.of("loads by " + key);
    Key<List<Double>> values =
        map.required(
            key,
            values(dimension, v -> v >= 0, dimension.inWords() + " of 0 or more"),
            "a list, or {from, to, points}");
    return map.reads(v -> new LoadValues(kind, v.get(values)));
  }

  /** A list of values, or from, to and the number of points. */
  private static Form<List<Double>> values(
      Dimension dimension, java.util.function.Predicate<Double> demand, String inWords) {
    Form<Double> value = Forms.where(Forms.quantity(dimension), demand, inWords);
    Map<String, Form<? extends List<Double>>> spans = Map.of("from", span(value));
    return Forms.itemsOr(Forms.list(value, 1), Forms.byKey("values", spans));
  }

  private static Form<List<Double>> span(Form<Double> value) {
    MapForm.Builder map = MapForm.of("values from one to another");
    Key<Double> from = map.required("from", value, "the first");
    Key<Double> to = map.required("to", value, "the last");
    Key<Integer> points = map.required("points", Forms.count(2, 100_000), "how many");
    Map<String, Boolean> spacings = new LinkedHashMap<>();
    spacings.put("linear", false);
    spacings.put("logarithmic", true);
    Key<Boolean> logarithmic =
        map.optional("spacing", Forms.choice(spacings), false, "linear (default) or logarithmic");
    return map.reads(v -> spread(v.get(from), v.get(to), v.get(points), v.get(logarithmic)));
  }

  private static List<Double> spread(double from, double to, int points, boolean logarithmic) {
    if (logarithmic && !(from > 0 && to > 0)) {
      throw new IllegalArgumentException(
          "logarithmic spacing from or to 0; expected both ends above 0");
    }
    List<Double> values = new ArrayList<>();
    for (int i = 0; i < points; i++) {
      double share = (double) i / (points - 1);
      double value =
          logarithmic
              ? Math.exp(Math.log(from) + share * (Math.log(to) - Math.log(from)))
              : from + share * (to - from);
      values.add(i == 0 ? from : i == points - 1 ? to : value);
    }
    return values;
  }
}
