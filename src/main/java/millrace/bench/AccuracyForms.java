// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.util.Optional;
import millrace.calibration.Accuracy;
import millrace.calibration.Band;
import millrace.calibration.Correction;
import millrace.document.form.Form;
import millrace.document.form.Forms;
import millrace.document.form.MapForm;
import millrace.document.form.MapForm.Key;
import millrace.quantity.Dimension;

/** How what is stated of an instrument is written: accuracy, corrections, intervals. */
final class AccuracyForms {
  private AccuracyForms() {}

  static final Form<Double> COVERAGE =
      Forms.where(Forms.quantity(Dimension.NUMBER), k -> k > 0, "a coverage factor above 0");

  static Form<Accuracy> accuracy(Dimension kind) {
    Form<Double> ratio = Forms.quantity(Dimension.RATIO);
    MapForm.Builder map = MapForm.of("an accuracy statement");
    Key<Optional<Double>> range =
        map.optional("range", Forms.quantity(kind), "the range it is for; default all");
    Key<Double> reading = map.optional("reading", ratio, 0.0, "of reading");
    Key<Double> full = map.optional("full scale", ratio, 0.0, "of full scale");
    Key<Double> absolute = map.optional("absolute", Forms.quantity(kind), 0.0, "absolute");
    Key<Optional<Double>> k =
        map.optional("k", Forms.quantity(Dimension.NUMBER), "its coverage factor; default none");
    Key<Optional<Double>> transfer =
        map.optional("transfer", ratio, "short-term linearity, of full scale");
    Key<Double> tempco =
        map.optional("tempco", Forms.quantity(Dimension.RATIO_PER_KELVIN), 0.0, "outside the band");
    Key<Optional<Band>> band =
        map.optional("band", band(Dimension.TEMPERATURE), "lab temperatures it holds for");
    Key<Double> burden =
        map.optional("burden", Forms.quantity(Dimension.RESISTANCE), 0.0, "of a current meter");
    Key<Double> burdenU = map.optional("burden uncertainty", ratio, 0.01, "standard; default 1 %");
    Key<Optional<Double>> input =
        map.optional("input resistance", Forms.quantity(Dimension.RESISTANCE), "of a voltmeter");
    Key<Double> inputU =
        map.optional("input resistance uncertainty", ratio, 0.01, "standard; default 1 %");
    return map.reads(
        v ->
            new Accuracy(
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

  static Form<Correction> correction(Dimension kind) {
    MapForm.Builder map = MapForm.of("a correction");
    Dimension at = kind == Dimension.TEMPERATURE_DIFFERENCE ? Dimension.TEMPERATURE : kind;
    Key<Double> where = map.required("at", Forms.quantity(at), "the indication");
    Key<Double> value =
        map.required("correction", Forms.quantity(kind), "reference minus indication");
    Key<Double> u = map.required("u", Forms.quantity(kind), "its uncertainty");
    Key<Double> k = map.optional("k", COVERAGE, 1.0, "coverage factor of u; default 1, standard");
    return map.reads(v -> new Correction(v.get(where), v.get(value), v.get(u) / v.get(k)));
  }

  static Form<Band> band(Dimension dimension) {
    return Forms.map(
        Forms.where(
            Forms.list(Forms.quantity(dimension), 2),
            list -> list.size() == 2,
            "two values, the lower and the upper end"),
        list -> new Band(list.get(0), list.get(1)));
  }
}
