package millrace.analysis.series;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.regression.TheilSen;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.Coverage;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.Results;
import millrace.analysis.uncertainty.Results.Subject;
import millrace.analysis.uncertainty.Source;
import millrace.evidence.At;
import millrace.evidence.AtKey;
import millrace.evidence.Outcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.quantity.Numbers;

/**
 * Drift over time by Theil and Sen, with interval, beside least squares; above 5,000 points on
 * means of blocks (measurement.md 6.3). Successive errors that are alike widen the interval. Pure;
 * thread-safe.
 */
public final class Drift {
  private static final double SECONDS_PER_HOUR = 3600;
  private static final int LEAST = 5;

  /** How many blocks a long record is averaged to: pairs of blocks are held in memory. */
  private static final int BLOCKS = 2500;

  private Drift() {}

  /**
   * The drift of a record.
   *
   * @param series the record
   * @param question what is asked
   * @param bench the bench's own drift, ppm/h, which is taken off with what is known of it; exact 0
   *     if it is negligible (measurement.md 2.7)
   * @return ppm/h with its interval, or what is missing
   */
  public static Result of(TimeSeries series, SeriesQuestion question, Estimate bench) {
    Subject subject =
        question.subject(
            ResultQuantity.DRIFT,
            At.NONE.with(AtKey.DURATION_S, series.durationS()),
            "Theil-Sen slope over time, measurement.md 6.3");
    if (series.size() < LEAST || !(series.durationS() > 0)) {
      return Results.missing(
          subject,
          "%s readings over %s s; needs at least %s at different times"
              .formatted(series.size(), Numbers.significant(series.durationS(), 3), LEAST),
          series.size());
    }
    List<String> notes = new ArrayList<>();
    if (!series.cameInOrder()) {
      notes.add("times ran backwards: the readings were put in order");
    }
    Blocks blocks = Blocks.of(series, question.baseA());
    if (blocks.length > 1) {
      notes.add("on means of blocks of %s readings".formatted(blocks.length));
    }
    return result(subject, blocks, series.size(), notes, bench);
  }

  private static Result result(
      Subject subject, Blocks blocks, int n, List<String> notes, Estimate bench) {
    Line line = Line.of(blocks.hours, blocks.ppm);
    double r = line.correlation();
    double inflation = Math.sqrt((1 + r) / (1 - r));
    TheilSen robust = TheilSen.of(blocks.hours, blocks.ppm, subject.coverage(), inflation);
    notes.add(
        Numbers.format(
            "least squares: %.4g ppm/h, u %.2g ppm/h", line.slope(), line.u() * inflation));
    if (r > 0) {
      notes.add(Numbers.format("successive errors correlate by %.2f: the interval is widened", r));
    }
    double half = (robust.high() - robust.low()) / 2;
    double k = Coverage.factor(subject.coverage(), OptionalDouble.empty());
    Source scatter =
        Source.normal(
            "scatter about the line",
            Source.POINT,
            "record",
            half > 0 ? half / k : line.u() * inflation,
            "ppm/h");
    if (bench.value() != 0) {
      notes.add(Numbers.format("the meter's own drift is taken off: %.3g ppm/h", bench.value()));
    }
    Estimate drift = Estimate.exact(robust.slope()).with(scatter, 1).minus(bench);
    return drift.hasUncertainty() && half > 0
        ? withInterval(subject, drift, robust, n, notes)
        : Results.value(subject, drift, n, notes);
  }

  private static Result withInterval(
      Subject subject, Estimate drift, TheilSen robust, int n, List<String> notes) {
    Budget budget = Budget.of(drift);
    Outcome.Uncertainty all = budget.uncertainty(subject.coverage());
    double half = (robust.high() - robust.low()) / 2;
    double rest = Math.sqrt(Math.max(0, all.expanded() * all.expanded() - half * half));
    double below = Math.hypot(robust.slope() - robust.low(), rest);
    double above = Math.hypot(robust.high() - robust.slope(), rest);
    double expanded = Math.max(below, above);
    Outcome.Uncertainty own =
        new Outcome.Uncertainty(
            all.standard(),
            expanded,
            drift.value() - below,
            drift.value() + above,
            subject.coverage(),
            expanded / all.standard(),
            all.degreesOfFreedom());
    return Results.result(
        subject, new Outcome.Value(drift.value(), Optional.of(own), n), budget.components(), notes);
  }

  /** A record in hours and ppm, averaged over blocks if it is long. */
  private static final class Blocks {
    private final double[] hours;
    private final double[] ppm;
    private final int length;

    Blocks(double[] hours, double[] ppm, int length) {
      this.hours = hours;
      this.ppm = ppm;
      this.length = length;
    }

    static Blocks of(TimeSeries series, double baseA) {
      int n = series.size();
      int length = n <= TheilSen.MOST ? 1 : (n + BLOCKS - 1) / BLOCKS;
      int count = series.size() / length;
      double[] hours = new double[count];
      double[] ppm = new double[count];
      double[] all = series.ppmOf(baseA);
      for (int i = 0; i < count * length; i++) {
        hours[i / length] += (series.timeS(i) - series.timeS(0)) / SECONDS_PER_HOUR / length;
        ppm[i / length] += all[i] / length;
      }
      return new Blocks(hours, ppm, length);
    }
  }
}
