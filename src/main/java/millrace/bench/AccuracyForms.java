// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import millrace.calibration.AccuracyStatement;
import millrace.calibration.CertificateCorrectionLine;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.quantity.ClosedInterval;
import millrace.quantity.Dimension;

/** The form of what a bench file states of an instrument: accuracy, corrections, intervals. */
final class AccuracyForms {
  private AccuracyForms() {}

  static final YamlForm<Double> COVERAGE =
      YamlForms.above0(Dimension.NUMBER, "a coverage factor above 0");

  static YamlForm<AccuracyStatement> accuracy(Dimension kind) {
    return YamlMapForm.of(
        "an accuracy statement",
        map ->
            new AccuracyStatement(
                map.optional("range", kind, "the range it is for; default all"),
                map.optional("reading", Dimension.RATIO, 0.0, "of reading"),
                map.optional("full scale", Dimension.RATIO, 0.0, "of full scale"),
                map.optional("absolute", kind, 0.0, "absolute"),
                map.optional("k", Dimension.NUMBER, "its coverage factor; default none"),
                map.optional("transfer", Dimension.RATIO, "short-term linearity, of full scale"),
                map.optional(
                    "noise",
                    Dimension.RATIO,
                    "rms of readings of one line cycle, of full scale; for forecasts; default three"
                        + " steps"),
                map.optional("tempco", Dimension.RATIO_PER_KELVIN, 0.0, "outside the band"),
                map.optional("band", band(Dimension.TEMPERATURE), "lab temperatures it holds for"),
                map.optional("burden", Dimension.RESISTANCE, 0.0, "of a current meter"),
                map.optional("burden uncertainty", Dimension.RATIO, 0.01, "standard; default 1 %"),
                map.optional("input resistance", Dimension.RESISTANCE, "of a voltmeter"),
                map.optional(
                    "input resistance uncertainty",
                    Dimension.RATIO,
                    0.01,
                    "standard; default 1 %")));
  }

  static YamlForm<CertificateCorrectionLine> correction(Dimension kind) {
    Dimension at = kind == Dimension.TEMPERATURE_DIFFERENCE ? Dimension.TEMPERATURE : kind;
    return YamlMapForm.of(
        "a correction",
        map ->
            new CertificateCorrectionLine(
                map.required("at", at, "the indication"),
                map.required("correction", kind, "reference minus indication"),
                map.required("u", kind, "its uncertainty")
                    / map.optional(
                        "k", COVERAGE, 1.0, "coverage factor of u; default 1, standard")));
  }

  static YamlForm<ClosedInterval> band(Dimension dimension) {
    return YamlForms.two(
        YamlForms.quantity(dimension),
        "two values, the lower and the upper end",
        ClosedInterval::new);
  }
}
