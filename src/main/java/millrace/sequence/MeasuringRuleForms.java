// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.Optional;
import java.util.function.Function;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.document.form.YamlMapForm.Key;
import millrace.quantity.Dimension;
import millrace.sequence.MeasuringRules.OnFailure;
import millrace.sequence.MeasuringRules.SoakRule;

/** How rules are written: readings, settling, failure, soak. */
final class MeasuringRuleForms {
  static final YamlForm<Double> RATIO_ABOVE_0 =
      YamlForms.where(
          YamlForms.quantity(Dimension.RATIO), r -> r > 0, "a ratio above 0, as in '2 ppm'");
  static final YamlForm<Double> SPAN =
      YamlForms.where(
          YamlForms.quantity(Dimension.TIME), s -> s >= 0, "a time span of 0 s or more");
  static final YamlForm<Double> SPAN_ABOVE_0 =
      YamlForms.where(YamlForms.quantity(Dimension.TIME), s -> s > 0, "a time span above 0 s");
  static final YamlForm<OnFailure> ON_FAILURE =
      YamlForms.choice(OnFailure.values(), OnFailure::text);
  static final YamlForm<MeasuringRuleOverrides.Reading> READINGS = readings();
  private static final YamlForm<MeasuringRuleOverrides.Settle> SETTLE = settle();
  static final YamlForm<SoakRule> SOAK = soak();

  private MeasuringRuleForms() {}

  /** Adds the keys that may stand at the head of a file and at every step. */
  static Function<YamlMapForm.Values, MeasuringRuleOverrides> keys(YamlMapForm.Builder map) {
    Key<MeasuringRuleOverrides.Reading> readings =
        map.optional(
            "readings",
            READINGS,
            MeasuringRuleOverrides.Reading.NONE,
            "how readings are taken; what is left out counts as around it");
    Function<YamlMapForm.Values, MeasuringRuleOverrides> others = withoutReadings(map);
    return v -> {
      MeasuringRuleOverrides rest = others.apply(v);
      return new MeasuringRuleOverrides(v.get(readings), rest.settle(), rest.onFailure());
    };
  }

  /** The same for steps that say how readings are taken in another way. */
  static Function<YamlMapForm.Values, MeasuringRuleOverrides> withoutReadings(
      YamlMapForm.Builder map) {
    Key<MeasuringRuleOverrides.Settle> settle =
        map.optional(
            "settle",
            SETTLE,
            MeasuringRuleOverrides.Settle.NONE,
            "how it settles after a change of conditions");
    Key<Optional<OnFailure>> failure =
        map.optional(
            "on failure", ON_FAILURE, "stop, skip (this branch), or go on flagged (default)");
    return v ->
        new MeasuringRuleOverrides(
            MeasuringRuleOverrides.Reading.NONE, v.get(settle), v.get(failure));
  }

  private static YamlForm<MeasuringRuleOverrides.Reading> readings() {
    YamlMapForm.Builder map = YamlMapForm.of("how readings are taken");
    Key<Optional<Integer>> count =
        map.optional("count", YamlForms.count(1, 1_000_000), "how many at least; default 10");
    Key<Optional<Double>> cycles =
        map.optional(
            "line cycles",
            YamlForms.where(YamlForms.quantity(Dimension.NUMBER), c -> c > 0, "a number above 0"),
            "integration time; default 10");
    Key<Optional<Double>> until =
        map.optional(
            "until uncertainty below",
            RATIO_ABOVE_0,
            "standard uncertainty of the mean, of the nominal current");
    Key<Optional<Integer>> most =
        map.optional(
            "at most",
            YamlForms.count(1, 1_000_000),
            "readings, if an uncertainty is asked for; default ten times the count");
    Key<Optional<Integer>> voltage =
        map.optional(
            "voltage",
            YamlForms.count(1, 1_000_000),
            "beside how many of them the voltage is read; default all");
    Key<Optional<Boolean>> reversal =
        map.optional(
            "reversal",
            YamlForms.map(YamlForms.yesNo(), yes -> yes),
            "yes: as many again with the unit's leads exchanged; default no");
    return map.reads(
        v ->
            new MeasuringRuleOverrides.Reading(
                v.get(count),
                v.get(cycles),
                v.get(until),
                v.get(most),
                v.get(voltage),
                v.get(reversal)));
  }

  private static YamlForm<MeasuringRuleOverrides.Settle> settle() {
    YamlMapForm.Builder map = YamlMapForm.of("how it settles");
    Key<Optional<Double>> wait = map.optional("wait", SPAN, "fixed; default 1 s");
    Key<Optional<Double>> within =
        map.optional(
            "within",
            RATIO_ABOVE_0,
            "beyond that, until successive readings agree within this and creep no more");
    Key<Optional<Double>> most =
        map.optional("at most", SPAN, "bound of waiting for that; default 60 s");
    return map.reads(
        v -> new MeasuringRuleOverrides.Settle(v.get(wait), v.get(within), v.get(most)));
  }

  private static YamlForm<SoakRule> soak() {
    SoakRule usual = SoakRule.DEFAULT;
    YamlMapForm.Builder map = YamlMapForm.of("a soak rule");
    Key<Double> within =
        map.optional(
            "within",
            RATIO_ABOVE_0,
            usual.withinRatio(),
            "what may be left of the change of the current; default 2 ppm");
    Key<Double> band =
        map.optional(
            "unit within",
            YamlForms.where(
                YamlForms.quantity(Dimension.TEMPERATURE_DIFFERENCE),
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
