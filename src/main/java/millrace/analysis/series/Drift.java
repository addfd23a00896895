// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.series;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.noise.LongRecord;
import millrace.analysis.noise.SlowDrift;
import millrace.analysis.noise.SlowDrift.Interval;
import millrace.analysis.regression.TheilSen;
import millrace.analysis.uncertainty.CoverageFactors;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.analysis.uncertainty.ResultBuilder.Subject;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.MeasurementModel;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import millrace.quantity.NumberText;

/**
 * Drift over time: the least-squares slope of clipped readings, with an interval that holds for
 * white and for slow noise (methods.md 6.3); the slope of Theil and Sen is shown beside, never
 * instead, since readings of one digit pull it to zero. Pure; thread-safe.
 */
public final class Drift {
  /** What the noise of the readings is called in a budget. */
  public static final String NOISE = "noise of the record, slow noise too";

  private static final double SECONDS_PER_HOUR = 3600;
  private static final int LEAST = 5;

  private Drift() {}

  /**
   * The drift of a record, the law of its noise told by another one too.
   *
   * @param series the record
   * @param question what is asked
   * @param bench the bench's own drift, ppm/h, as in the shorter form
   * @param beside a record of the same unit and setting, no reading in common, in ppm of its
   *     nominal current; used if it is long enough and its readings follow one another alike
   * @return ppm/h with its interval, or what is missing
   */
  public static Result of(
      TimeSeries series, TimeSeriesRequest question, Estimate bench, Optional<LongRecord> beside) {
    Subject subject =
        question.subject(
            ResultQuantity.DRIFT,
            ResultConditions.NONE.with(ResultConditionKey.DURATION_S, series.durationS()),
            "least squares over time, Methods of Millrace 6.3");
    if (series.size() < LEAST || !(series.durationS() > 0)) {
      return ResultBuilder.missing(
          subject,
          "%s readings over %s s; needs at least %s at different times"
              .formatted(series.size(), NumberText.significant(series.durationS(), 3), LEAST),
          series.size());
    }
    List<String> notes = new ArrayList<>();
    if (!series.cameInOrder()) {
      notes.add("times ran backwards: the readings were put in order");
    }
    double fromS = series.timeS(0);
    SlowDrift drift =
        SlowDrift.of(
            i -> (series.timeS(i) - fromS) / SECONDS_PER_HOUR, series.ppmOf(question.baseA()));
    if (drift.length() > 1) {
      notes.add("on means of %s readings".formatted(drift.length()));
    }
    Interval interval = drift.interval(beside, SECONDS_PER_HOUR, subject.coverage());
    notes.addAll(interval.notes());
    notes.add(robust(drift, subject.coverage()));
    if (bench.value() != 0) {
      notes.add(NumberText.format("the meter's own drift is taken off: %.3g ppm/h", bench.value()));
    }
    return result(subject, drift, interval, new Rest(bench, series.size(), notes));
  }

  /** What else a result has. */
  private record Rest(Estimate bench, int n, List<String> notes) {}

  private static String robust(SlowDrift drift, double coverage) {
    TheilSen robust = TheilSen.of(drift.times(), drift.values(), coverage);
    return NumberText.format(
        "beside it the median of all pairs (Theil, Sen): %.4g ppm/h", robust.slope());
  }

  private static Result result(Subject subject, SlowDrift drift, Interval interval, Rest rest) {
    Estimate slope = Estimate.exact(drift.slope());
    if (interval.expanded().isEmpty()) {
      double value = slope.minus(rest.bench()).value();
      return ResultBuilder.result(
          subject,
          new ComputationOutcome.Value(value, Optional.empty(), rest.n()),
          List.of(),
          rest.notes());
    }
    double k = CoverageFactors.factor(subject.coverage(), OptionalDouble.empty());
    ErrorSource noise =
        ErrorSource.normal(
            NOISE, ErrorSource.POINT, "record", interval.expanded().getAsDouble() / k, "ppm/h");
    return ResultBuilder.value(
            subject, slope.with(noise, 1).minus(rest.bench()), rest.n(), rest.notes())
        .by(
            MeasurementModel.of(
                    "D = b - e, b = sum (t_i - mean t) y_i/sum (t_i - mean t)^2 over the readings,"
                        + " e the drift of the meter")
                .with("b", "ppm/h", drift.slope())
                .with("e", "ppm/h", rest.bench().value()));
  }
}
