// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.analysis.reduction.SampleMedian;
import millrace.analysis.series.TimeSeries;
import millrace.assessment.series.TimeRecordStudy;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultQuantity;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.report.plot.Axis;
import millrace.report.plot.BandEdges;
import millrace.report.plot.Chart;
import millrace.report.plot.Mark;
import millrace.report.plot.PlotLinePoint;
import millrace.report.plot.PointWithErrorBar;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.plot.SeriesStyle;
import millrace.report.words.ResultFigures;

/** Charts of a current over time: drift, noise, and Allan deviation. */
public final class TimeSeriesCharts {
  private static final double PPM = 1e6;
  private static final double SECONDS_PER_HOUR = 3600;

  /** Lower bound for a logarithmic axis, which has no zero. */
  private static final double LEAST = 1e-12;

  private final TimeRecordStudy record;
  private final Optional<String> stamp;
  private final double[] hours;
  private final double[] ppm;

  /**
   * Charts of one record.
   *
   * @param record the readings over time and their results
   * @param stamp mark for a simulated run; empty otherwise
   */
  public TimeSeriesCharts(TimeRecordStudy record, Optional<String> stamp) {
    this.record = record;
    this.stamp = stamp;
    TimeSeries series = record.series();
    this.hours = new double[series.size()];
    this.ppm = new double[series.size()];
    for (int i = 0; i < hours.length; i++) {
      hours[i] = (series.timeS(i) - series.timeS(0)) / SECONDS_PER_HOUR;
      ppm[i] = (series.currentA(i) - series.currentA(0)) / Math.abs(record.nominalA()) * PPM;
    }
    double middle = SampleMedian.of(ppm);
    for (int i = 0; i < ppm.length; i++) {
      ppm[i] -= middle;
    }
  }

  /** The name of the record in words. */
  private String name() {
    String at =
        record.results().stream()
            .findFirst()
            .flatMap(
                r ->
                    r.at().number(ResultConditionKey.TEMPERATURE_DEGC).stream().boxed().findFirst())
            .map(t -> " at " + NumberText.fixed(t, 1) + " \u00b0C")
            .orElse("");
    return "Range " + record.range() + at;
  }

  private Optional<Result> found(ResultQuantity quantity) {
    return record.results().stream().filter(r -> r.quantity() == quantity).findFirst();
  }

  private double slope() {
    return found(ResultQuantity.DRIFT)
        .filter(r -> r.outcome() instanceof ComputationOutcome.Value)
        .map(r -> ((ComputationOutcome.Value) r.outcome()).value())
        .orElse(0.0);
  }

  /** The Theil-Sen line, which passes through both medians. */
  private double onLine(double hour) {
    return slope() * (hour - SampleMedian.of(hours));
  }

  /** The readings over time, with the drift line. */
  public Chart drift() {
    List<Mark> marks = new ArrayList<>();
    marks.add(curve("readings, less their median", ppm));
    Optional<String> stated = found(ResultQuantity.DRIFT).flatMap(ResultFigures::stated);
    double last = hours[hours.length - 1];
    stated.ifPresent(
        words ->
            marks.add(
                new Mark.Curve(
                    "Theil-Sen line, " + PrintedUnitSymbols.of(words),
                    SeriesStyle.FIRST,
                    List.of(corner(0, onLine(0)), corner(last, onLine(last))))));
    Chart.Words words =
        new Chart.Words(
            name() + ": current over time",
            "The change of the current in ppm of the nominal current"
                + stated.map(s -> "; it drifts by " + PrintedUnitSymbols.of(s) + ".").orElse("."),
            stamp);
    return new Chart(words, time(), change("Change"), marks, Chart.Size.PAGE);
  }

  /** The residuals of the drift line, with the rms noise. */
  public Chart noise() {
    double[] left = new double[ppm.length];
    double[] line = {onLine(0), slope()};
    for (int i = 0; i < left.length; i++) {
      left[i] = ppm[i] - line[0] - line[1] * hours[i];
    }
    List<Mark> marks = new ArrayList<>();
    marks.add(curve("readings, less the line of the drift", left));
    found(ResultQuantity.NOISE_RMS)
        .filter(r -> r.outcome() instanceof ComputationOutcome.Value)
        .map(r -> ((ComputationOutcome.Value) r.outcome()).value())
        .ifPresent(
            rms -> {
              marks.add(new Mark.Level("+ rms noise", rms));
              marks.add(new Mark.Level("\u2212 rms noise", -rms));
            });
    String stated =
        found(ResultQuantity.NOISE_RMS)
            .map(r -> "rms noise " + PrintedUnitSymbols.of(ResultFigures.inWords(r)) + ".")
            .orElse("");
    Chart.Words words =
        new Chart.Words(
            name() + ": noise",
            "What the line of the drift leaves over, in ppm of the nominal current; " + stated,
            stamp);
    return new Chart(words, time(), change("Rest"), marks, Chart.Size.STRIP);
  }

  /** The overlapping Allan deviation with its intervals, on two logarithmic axes. */
  public Optional<Chart> allan() {
    List<PointWithErrorBar> spots = new ArrayList<>();
    List<BandEdges> edges = new ArrayList<>();
    for (Result r : record.results()) {
      if (r.quantity() == ResultQuantity.ALLAN_DEVIATION
          && r.outcome() instanceof ComputationOutcome.Value v
          && v.value() > 0) {
        double tau = r.at().number(ResultConditionKey.TAU_S).orElseThrow();
        spots.add(PointWithErrorBar.of(tau, v.value(), 0));
        v.uncertainty()
            .ifPresent(u -> edges.add(new BandEdges(tau, Math.max(u.lower(), LEAST), u.upper())));
      }
    }
    return spots.size() < 2 ? Optional.empty() : Optional.of(allan(spots, edges));
  }

  private Chart allan(List<PointWithErrorBar> spots, List<BandEdges> edges) {
    List<Mark> marks = new ArrayList<>();
    if (edges.size() > 1) {
      marks.add(new Mark.Band("coverage interval", edges));
    }
    PointWithErrorBar first = spots.get(0);
    double far = spots.get(spots.size() - 1).x();
    marks.add(
        new Mark.Curve(
            "white noise: one over the root of the time",
            SeriesStyle.THIRD,
            List.of(
                corner(first.x(), first.y()),
                corner(far, first.y() * Math.sqrt(first.x() / far)))));
    marks.add(Mark.Points.of("overlapping Allan deviation", SeriesStyle.FIRST, spots));
    Chart.Words words =
        new Chart.Words(
            name() + ": Allan deviation",
            "How far means over neighbouring stretches of time differ, by the length of the"
                + " stretches; where it no longer falls, longer averaging gains nothing.",
            stamp);
    return new Chart(
        words,
        Axis.of("Averaging time", Dimension.TIME).byFactors(),
        Axis.counted("Allan deviation", "ppm").byFactors(),
        marks,
        Chart.Size.PAGE);
  }

  private Mark curve(String name, double[] values) {
    List<PlotLinePoint> corners = new ArrayList<>(values.length);
    for (int i = 0; i < values.length; i++) {
      corners.add(corner(hours[i], values[i]));
    }
    return new Mark.Curve(name, SeriesStyle.BEHIND, corners);
  }

  private static PlotLinePoint corner(double x, double y) {
    return new PlotLinePoint(x, y);
  }

  private static Axis time() {
    return Axis.counted("Time since the first reading", "h");
  }

  private static Axis change(String words) {
    return Axis.counted(words, "ppm").with(0);
  }
}
