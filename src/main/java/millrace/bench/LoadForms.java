// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.util.List;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlKeys;
import millrace.document.form.YamlMapForm;
import millrace.quantity.Dimension;

/** How the values and limits of a load are written in a bench file. */
final class LoadForms {
  private LoadForms() {}

  private static final YamlForm<LoadProperties.Value> VALUE =
      YamlMapForm.of(
          "a calibrated value",
          map ->
              new LoadProperties.Value(
                  map.required("nominal", Dimension.RESISTANCE, "what the load is set to"),
                  map.required("value", Dimension.RESISTANCE, "what it then is"),
                  map.required("u", Dimension.RESISTANCE, "its uncertainty")
                      / map.optional(
                          "k",
                          AccuracyForms.COVERAGE,
                          1.0,
                          "coverage factor of u; default 1, standard"),
                  map.optional("tempco", Dimension.RATIO_PER_KELVIN, 0.0, "default 0"),
                  map.optional("calibrated at", Dimension.TEMPERATURE, 23.0, "23 degC")));

  private static final YamlForm<LoadProperties.Limit> LIMIT =
      YamlMapForm.of(
          "what a decade bears",
          map ->
              new LoadProperties.Limit(
                  map.required("from", Dimension.RESISTANCE, "where the decade begins"),
                  map.required("voltage", Dimension.VOLTAGE, "largest voltage"),
                  map.required("power", Dimension.POWER, "largest power")));

  /** The keys of a load among the facts of its role. */
  static LoadProperties of(YamlKeys map) {
    return new LoadProperties(
        map.optional("values", YamlForms.list(VALUE, 0), List.of(), "calibrated values"),
        map.optional("decades", YamlForms.list(LIMIT, 0), List.of(), "what each decade bears"),
        map.optional("residual", Dimension.RESISTANCE, 0.0, "what remains at a setting of 0"),
        map.optional("leakage", Dimension.RESISTANCE, "resistance across the box"));
  }
}
