// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.util.Optional;
import millrace.calibration.AccuracyStatement;
import millrace.calibration.CertificateCorrectionLine;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.document.form.YamlMapForm.Key;
import millrace.quantity.ClosedInterval;
import millrace.quantity.Dimension;

/** How what is stated of an instrument is written: accuracy, corrections, intervals. */
final class AccuracyForms {
  private AccuracyForms() {}

  static final YamlForm<Double> COVERAGE =
      YamlForms.where(
          YamlForms.quantity(Dimension.NUMBER), k -> k > 0, "a coverage factor above 0");

  static YamlForm<AccuracyStatement> accuracy(Dimension kind) {
    YamlForm<Double> ratio = YamlForms.quantity(Dimension.RATIO);
    YamlMapForm.Builder map = YamlMapForm.of("an accuracy statement");
    Key<Optional<Double>> range =
        map.optional("range", YamlForms.quantity(kind), "the range it is for; default all");
    Key<Double> reading = map.optional("reading", ratio, 0.0, "of reading");
    Key<Double> full = map.optional("full scale", ratio, 0.0, "of full scale");
    Key<Double> absolute = map.optional("absolute", YamlForms.quantity(kind), 0.0, "absolute");
    Key<Optional<Double>> k =
        map.optional(
            "k", YamlForms.quantity(Dimension.NUMBER), "its coverage factor; default none");
    Key<Optional<Double>> transfer =
        map.optional("transfer", ratio, "short-term linearity, of full scale");
    Key<Double> tempco =
        map.optional(
            "tempco", YamlForms.quantity(Dimension.RATIO_PER_KELVIN), 0.0, "outside the band");
    Key<Optional<ClosedInterval>> band =
        map.optional("band", band(Dimension.TEMPERATURE), "lab temperatures it holds for");
    Key<Double> burden =
        map.optional("burden", YamlForms.quantity(Dimension.RESISTANCE), 0.0, "of a current meter");
    Key<Double> burdenU = map.optional("burden uncertainty", ratio, 0.01, "standard; default 1 %");
    Key<Optional<Double>> input =
        map.optional(
            "input resistance", YamlForms.quantity(Dimension.RESISTANCE), "of a voltmeter");
    Key<Double> inputU =
        map.optional("input resistance uncertainty", ratio, 0.01, "standard; default 1 %");
    return map.reads(
        v ->
            new AccuracyStatement(
                v.get(range),
                v.get(reading),
                v.get(full),
                v.get(absolute),
                v.get(k),
                v.get(transfer),
                v.get(tempco),
                v.get(band),
                v.get(burden),
                v.get(burdenU),
                v.get(input),
                v.get(inputU)));
  }

  static YamlForm<CertificateCorrectionLine> correction(Dimension kind) {
    YamlMapForm.Builder map = YamlMapForm.of("a correction");
    Dimension at = kind == Dimension.TEMPERATURE_DIFFERENCE ? Dimension.TEMPERATURE : kind;
    Key<Double> where = map.required("at", YamlForms.quantity(at), "the indication");
    Key<Double> value =
        map.required("correction", YamlForms.quantity(kind), "reference minus indication");
    Key<Double> u = map.required("u", YamlForms.quantity(kind), "its uncertainty");
    Key<Double> k = map.optional("k", COVERAGE, 1.0, "coverage factor of u; default 1, standard");
    return map.reads(
        v -> new CertificateCorrectionLine(v.get(where), v.get(value), v.get(u) / v.get(k)));
  }

  static YamlForm<ClosedInterval> band(Dimension dimension) {
    return YamlForms.map(
        YamlForms.where(
            YamlForms.list(YamlForms.quantity(dimension), 2),
            list -> list.size() == 2,
            "two values, the lower and the upper end"),
        list -> new ClosedInterval(list.get(0), list.get(1)));
  }
}
