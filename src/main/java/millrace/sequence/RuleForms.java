// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.Optional;
import java.util.function.Function;
import millrace.document.form.Form;
import millrace.document.form.Forms;
import millrace.document.form.MapForm;
import millrace.document.form.MapForm.Key;
import millrace.quantity.Dimension;
import millrace.sequence.MeasuringRules.OnFailure;
import millrace.sequence.MeasuringRules.SoakRule;

/** How rules are written: readings, settling, failure, soak. */
final class RuleForms {
  static final Form<Double> RATIO_ABOVE_0 =
      Forms.where(Forms.quantity(Dimension.RATIO), r -> r > 0, "a ratio above 0, as in '2 ppm'");
  static final Form<Double> SPAN =
      Forms.where(Forms.quantity(Dimension.TIME), s -> s >= 0, "a time span of 0 s or more");
  static final Form<Double> SPAN_ABOVE_0 =
      Forms.where(Forms.quantity(Dimension.TIME), s -> s > 0, "a time span above 0 s");
  static final Form<OnFailure> ON_FAILURE = Forms.choice(OnFailure.values(), OnFailure::text);
  static final Form<RuleWords.Reading> READINGS = readings();
  private static final Form<RuleWords.Settle> SETTLE = settle();
  static final Form<SoakRule> SOAK = soak();

  private RuleForms() {}

  /** Adds the keys that may stand at the head of a file and at every step. */
  static Function<MapForm.Values, RuleWords> keys(MapForm.Builder map) {
    Key<RuleWords.Reading> readings =
        map.optional(
            "readings",
            READINGS,
            RuleWords.Reading.NONE,
            "how readings are taken; what is left out counts as around it");
    Function<MapForm.Values, RuleWords> others = withoutReadings(map);
    return v -> {
      RuleWords rest = others.apply(v);
      return new RuleWords(v.get(readings), rest.settle(), rest.onFailure());
    };
  }

  /** The same for steps that say how readings are taken in another way. */
  static Function<MapForm.Values, RuleWords> withoutReadings(MapForm.Builder map) {
    Key<RuleWords.Settle> settle =
        map.optional(
            "settle", SETTLE, RuleWords.Settle.NONE, "how it settles after a change of conditions");
    Key<Optional<OnFailure>> failure =
        map.optional(
            "on failure", ON_FAILURE, "stop, skip (this branch), or go on flagged (default)");
    return v -> new RuleWords(RuleWords.Reading.NONE, v.get(settle), v.get(failure));
  }

  private static Form<RuleWords.Reading> readings() {
    MapForm.Builder map = MapForm.of("how readings are taken");
    Key<Optional<Integer>> count =
        map.optional("count", Forms.count(1, 1_000_000), "how many at least; default 10");
    Key<Optional<Double>> cycles =
        map.optional(
            "line cycles",
            Forms.where(Forms.quantity(Dimension.NUMBER), c -> c > 0, "a number above 0"),
            "integration time; default 10");
    Key<Optional<Double>> until =
        map.optional(
            "until uncertainty below",
            RATIO_ABOVE_0,
            "standard uncertainty of the mean, of the nominal current");
    Key<Optional<Integer>> most =
        map.optional(
            "at most",
            Forms.count(1, 1_000_000),
            "readings, if an uncertainty is asked for; default ten times the count");
    Key<Optional<Integer>> voltage =
        map.optional(
            "voltage",
            Forms.count(1, 1_000_000),
            "beside how many of them the voltage is read; default all");
    Key<Optional<Boolean>> reversal =
        map.optional(
            "reversal",
            Forms.map(Forms.yesNo(), yes -> yes),
            "yes: as many again with the unit's leads exchanged; default no");
    return map.reads(
        v ->
            new RuleWords.Reading(
                v.get(count),
                v.get(cycles),
                v.get(until),
                v.get(most),
                v.get(voltage),
                v.get(reversal)));
  }

  private static Form<RuleWords.Settle> settle() {
    MapForm.Builder map = MapForm.of("how it settles");
    Key<Optional<Double>> wait = map.optional("wait", SPAN, "fixed; default 1 s");
    Key<Optional<Double>> within =
        map.optional(
            "within",
            RATIO_ABOVE_0,
            "beyond that, until successive readings agree within this and creep no more");
    Key<Optional<Double>> most =
        map.optional("at most", SPAN, "bound of waiting for that; default 60 s");
    return map.reads(v -> new RuleWords.Settle(v.get(wait), v.get(within), v.get(most)));
  }

  private static Form<SoakRule> soak() {
    SoakRule usual = SoakRule.DEFAULT;
    MapForm.Builder map = MapForm.of("a soak rule");
    Key<Double> within =
        map.optional(
            "within",
            RATIO_ABOVE_0,
            usual.withinRatio(),
            "what may be left of the change of the current; default 2 ppm");
    Key<Double> band =
        map.optional(
            "unit within",
            Forms.where(
                Forms.quantity(Dimension.TEMPERATURE_DIFFERENCE),
                k -> k > 0,
                "a temperature difference above 0 K"),
            usual.bandK(),
            "how far the unit may be from the temperature it comes to rest at; default 1 K");
    Key<Double> least = map.optional("at least", SPAN, usual.leastS(), "default 10 min");
    Key<Optional<Double>> most =
        map.optional("at most", SPAN, "the bound; default 3 h, or 'at least' where that is longer");
    Key<OnFailure> hit =
        map.optional(
            "if it takes longer", ON_FAILURE, usual.whenBoundHit(), "default go on flagged");
    Key<Double> every = map.optional("look every", SPAN_ABOVE_0, usual.everyS(), "default 15 s");
    return map.reads(
        v ->
            new SoakRule(
                v.get(within),
                v.get(least),
                v.get(most).orElse(Math.max(usual.mostS(), v.get(least))),
                v.get(hit),
                v.get(every),
                v.get(band)));
  }
}
