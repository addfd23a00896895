// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.document.form.YamlMapForm.Key;
import millrace.quantity.Dimension;

/** How the values and limits of a load are written in a bench file. */
final class LoadForms {
  private static final YamlForm<Double> OHM = YamlForms.quantity(Dimension.RESISTANCE);

  private LoadForms() {}

  /** Adds the keys of a load to the facts of its role. */
  static Function<YamlMapForm.Values, LoadProperties> keys(YamlMapForm.Builder map) {
    Key<List<LoadProperties.Value>> values =
        map.optional("values", YamlForms.list(value(), 0), List.of(), "calibrated values");
    Key<List<LoadProperties.Limit>> limits =
        map.optional("decades", YamlForms.list(limit(), 0), List.of(), "what each decade bears");
    Key<Double> residual = map.optional("residual", OHM, 0.0, "what remains at a setting of 0");
    Key<Optional<Double>> stray = map.optional("leakage", OHM, "resistance across the box");
    return v -> new LoadProperties(v.get(values), v.get(limits), v.get(residual), v.get(stray));
  }

  private static YamlForm<LoadProperties.Value> value() {
    YamlMapForm.Builder map = YamlMapForm.of("a calibrated value");
    Key<Double> nominal = map.required("nominal", OHM, "what the load is set to");
    Key<Double> value = map.required("value", OHM, "what it then is");
    Key<Double> u = map.required("u", OHM, "its uncertainty");
    Key<Double> k =
        map.optional("k", AccuracyForms.COVERAGE, 1.0, "coverage factor of u; default 1, standard");
    Key<Double> tempco =
        map.optional("tempco", YamlForms.quantity(Dimension.RATIO_PER_KELVIN), 0.0, "default 0");
    Key<Double> at =
        map.optional("calibrated at", YamlForms.quantity(Dimension.TEMPERATURE), 23.0, "23 degC");
    return map.reads(
        v ->
            new LoadProperties.Value(
                v.get(nominal), v.get(value), v.get(u) / v.get(k), v.get(tempco), v.get(at)));
  }

  private static YamlForm<LoadProperties.Limit> limit() {
    YamlMapForm.Builder map = YamlMapForm.of("what a decade bears");
    Key<Double> from = map.required("from", OHM, "where the decade begins");
    Key<Double> volts =
        map.required("voltage", YamlForms.quantity(Dimension.VOLTAGE), "largest voltage");
    Key<Double> watts = map.required("power", YamlForms.quantity(Dimension.POWER), "largest power");
    return map.reads(v -> new LoadProperties.Limit(v.get(from), v.get(volts), v.get(watts)));
  }
}
