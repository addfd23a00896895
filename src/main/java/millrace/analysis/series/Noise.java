// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.series;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.CoverageFactors;
import millrace.analysis.uncertainty.Quantiles;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.analysis.uncertainty.ResultBuilder.Subject;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import millrace.quantity.NumberText;

/**
 * Noise about the fitted drift, rms and peak to peak, with the bandwidth and duration that the
 * readings really give; an upper bound where it is below twice the bench's own (methods.md 6.4).
 * Pure; thread-safe.
 */
public final class Noise {
  private static final int LEAST = 10;

  private Noise() {}

  /**
   * The noise of a record.
   *
   * @param series the record
   * @param question what is asked
   * @return rms and peak to peak, ppm, each a value, a bound or what is missing
   */
  public static List<Result> of(TimeSeries series, TimeSeriesRequest question) {
    ResultConditions at = at(series, question);
    Subject rms =
        question.subject(
            ResultQuantity.NOISE_RMS, at, "scatter about the drift, Methods of Millrace 6.4");
    Subject peaks =
        question.subject(
            ResultQuantity.NOISE_PEAK_TO_PEAK,
            at,
            "range about the drift, Methods of Millrace 6.4");
    int n = series.size();
    if (n < LEAST || !(series.durationS() > 0)) {
      String why = "%s readings, needs at least %s at different times".formatted(n, LEAST);
      return List.of(ResultBuilder.missing(rms, why, n), ResultBuilder.missing(peaks, why, n));
    }
    LineFitOverTime line = LineFitOverTime.of(series.times(), series.ppmOf(question.baseA()));
    if (line.scatter() == 0) {
      String why = "all readings are alike: the noise is below their resolution";
      return List.of(ResultBuilder.missing(rms, why, n), ResultBuilder.missing(peaks, why, n));
    }
    boolean buried =
        question.floorPpm().isPresent() && line.scatter() < 2 * question.floorPpm().getAsDouble();
    List<String> notes = notes(question, buried);
    return List.of(rms(rms, line, buried, notes), peaks(peaks, line, buried, notes));
  }

  /** A reading averaged over T_int passes noise as a band of 1/(2 T_int). */
  private static ResultConditions at(TimeSeries series, TimeSeriesRequest question) {
    double span = question.integrationS().orElse(series.intervalS());
    ResultConditions at =
        ResultConditions.NONE.with(ResultConditionKey.DURATION_S, series.durationS());
    return span > 0 ? at.with(ResultConditionKey.BANDWIDTH_HZ, 1 / (2 * span)) : at;
  }

  private static List<String> notes(TimeSeriesRequest question, boolean buried) {
    List<String> notes = new ArrayList<>();
    if (question.integrationS().isEmpty()) {
      notes.add("the integration time is not known: bandwidth from the time between readings");
    }
    if (question.floorPpm().isEmpty()) {
      notes.add("the bench's own noise was not measured and is contained");
    }
    if (buried) {
      notes.add(
          NumberText.format(
              "an upper bound: below twice the bench's own %.3g ppm",
              question.floorPpm().orElse(0)));
    }
    return notes;
  }

  /**
   * The interval of a standard deviation by chi squared; correlated errors count as (1 - r^2)/(1 +
   * r^2) as many (Bayley and Hammersley, Suppl. J. R. Statist. Soc. 8 (1946) 184, from memory).
   */
  private static Result rms(
      Subject subject, LineFitOverTime line, boolean buried, List<String> notes) {
    double s = line.scatter();
    int n = line.size();
    double r2 = line.correlation() * line.correlation();
    double nu = Math.max(1, (n - 2) * (1 - r2) / (1 + r2));
    ComputationOutcome.Uncertainty u = ofDeviation(s, nu, subject.coverage());
    if (buried) {
      return ResultBuilder.bound(
          subject,
          new ComputationOutcome.Bound(ComputationOutcome.Side.BELOW, u.upper(), n),
          notes);
    }
    return ResultBuilder.result(
        subject, new ComputationOutcome.Value(s, Optional.of(u), n), List.of(), notes);
  }

  /** The uncertainty of a deviation whose square has nu degrees of freedom. */
  static ComputationOutcome.Uncertainty ofDeviation(double s, double nu, double coverage) {
    double low = s * Math.sqrt(nu / Quantiles.chiSquared((1 + coverage) / 2, nu));
    double high = s * Math.sqrt(nu / Quantiles.chiSquared((1 - coverage) / 2, nu));
    double standard = s / Math.sqrt(2 * nu);
    double expanded = Math.max(high - s, s - low);
    return new ComputationOutcome.Uncertainty(
        standard, expanded, low, high, coverage, expanded / standard, OptionalDouble.of(nu));
  }

  /**
   * The range of n normal values has a standard deviation of about sigma pi/sqrt(6 ln n) (Gumbel,
   * Statistics of Extremes, 1958: two extremes of pi/sqrt 6/sqrt(2 ln n) each, from memory).
   */
  private static Result peaks(
      Subject subject, LineFitOverTime line, boolean buried, List<String> notes) {
    int n = line.size();
    double range = line.range();
    double standard = line.scatter() * Math.PI / Math.sqrt(6 * Math.log(n));
    double k = CoverageFactors.factor(subject.coverage(), OptionalDouble.empty());
    double expanded = k * standard;
    if (buried) {
      return ResultBuilder.bound(
          subject,
          new ComputationOutcome.Bound(ComputationOutcome.Side.BELOW, range + expanded, n),
          notes);
    }
    List<String> all = new ArrayList<>(notes);
    all.add("a range grows with the duration: U is how it scatters between records this long");
    ComputationOutcome.Uncertainty u =
        new ComputationOutcome.Uncertainty(
            standard,
            expanded,
            Math.max(0, range - expanded),
            range + expanded,
            subject.coverage(),
            k,
            OptionalDouble.empty());
    return ResultBuilder.result(
        subject, new ComputationOutcome.Value(range, Optional.of(u), n), List.of(), all);
  }
}
