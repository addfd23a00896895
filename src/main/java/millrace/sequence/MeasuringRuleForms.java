// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlKeys;
import millrace.document.form.YamlMapForm;
import millrace.quantity.Dimension;
import millrace.sequence.MeasuringRuleOverrides.Reading;
import millrace.sequence.MeasuringRuleOverrides.Settle;
import millrace.sequence.MeasuringRules.OnFailure;
import millrace.sequence.MeasuringRules.SoakRule;

/** How rules are written: readings, settling, failure, soak. */
final class MeasuringRuleForms {
  static final YamlForm<Double> RATIO_ABOVE_0 =
      YamlForms.above0(Dimension.RATIO, "a ratio above 0, as in '2 ppm'");
  static final YamlForm<Double> SPAN =
      YamlForms.from0(Dimension.TIME, "a time span of 0 s or more");
  static final YamlForm<Double> SPAN_ABOVE_0 =
      YamlForms.above0(Dimension.TIME, "a time span above 0 s");
  static final YamlForm<OnFailure> ON_FAILURE =
      YamlForms.choice(OnFailure.values(), OnFailure::text);

  private MeasuringRuleForms() {}

  static final YamlForm<Reading> READINGS =
      YamlMapForm.of(
          "how readings are taken",
          map ->
              new Reading(
                  map.optional(
                      "count", YamlForms.count(1, 1_000_000), "how many at least; default 10"),
                  map.optional(
                      "line cycles",
                      YamlForms.above0(Dimension.NUMBER, "a number above 0"),
                      "integration time; default 10"),
                  map.optional(
                      "until uncertainty below",
                      RATIO_ABOVE_0,
                      "standard uncertainty of the mean, of the nominal current"),
                  map.optional(
                      "at most",
                      YamlForms.count(1, 1_000_000),
                      "readings, if an uncertainty is asked for; default ten times the count"),
                  map.optional(
                      "voltage",
                      YamlForms.count(1, 1_000_000),
                      "beside how many of them the voltage is read; default all"),
                  map.optional(
                      "reversal",
                      YamlForms.yesNo(),
                      "yes: as many again with the unit's leads exchanged; default no")));

  private static final YamlForm<Settle> SETTLE =
      YamlMapForm.of(
          "how it settles",
          map ->
              new Settle(
                  map.optional("wait", SPAN, "fixed; default 1 s"),
                  map.optional(
                      "within",
                      RATIO_ABOVE_0,
                      "beyond that, until successive readings agree within this and creep no more"),
                  map.optional("at most", SPAN, "bound of waiting for that; default 60 s")));

  static final YamlForm<SoakRule> SOAK = YamlMapForm.of("a soak rule", MeasuringRuleForms::soak);

  private static SoakRule soak(YamlKeys map) {
    SoakRule usual = SoakRule.DEFAULT;
    double within =
        map.optional(
            "within",
            RATIO_ABOVE_0,
            usual.withinRatio(),
            "what may be left of the change of the current; default 2 ppm");
    double band =
        map.optional(
            "unit within",
            YamlForms.above0(
                Dimension.TEMPERATURE_DIFFERENCE, "a temperature difference above 0 K"),
            usual.bandK(),
            "how far the unit may be from the temperature it comes to rest at; default 1 K");
    double least = map.optional("at least", SPAN, usual.leastS(), "default 10 min");
    return new SoakRule(
        within,
        least,
        map.optional(
            "at most",
            SPAN,
            Math.max(usual.mostS(), least),
            "the bound; default 3 h, or 'at least' where that is longer"),
        map.optional(
            "if it takes longer", ON_FAILURE, usual.whenBoundHit(), "default go on flagged"),
        map.optional("look every", SPAN_ABOVE_0, usual.everyS(), "default 15 s"),
        band);
  }

  /** The keys that may stand at the head of a file and at every step. */
  static MeasuringRuleOverrides of(YamlKeys map) {
    return of(
        map.optional(
            "readings",
            READINGS,
            Reading.NONE,
            "how readings are taken; what is left out counts as around it"),
        map);
  }

  /** The same without the key for readings, for steps that state readings by a key of their own. */
  static MeasuringRuleOverrides of(Reading readings, YamlKeys map) {
    return new MeasuringRuleOverrides(
        readings,
        map.optional("settle", SETTLE, Settle.NONE, "how it settles after a change of conditions"),
        map.optional(
            "on failure", ON_FAILURE, "stop, skip (this branch), or go on flagged (default)"));
  }
}
