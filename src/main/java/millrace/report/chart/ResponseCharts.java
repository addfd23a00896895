// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.response.PredictionCondition;
import millrace.analysis.response.PromisedConditionBox;
import millrace.analysis.response.RangeResponse;
import millrace.analysis.response.ResponsePoint;
import millrace.evidence.Limit;
import millrace.quantity.ClosedInterval;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.report.plot.Axis;
import millrace.report.plot.BandEdges;
import millrace.report.plot.Chart;
import millrace.report.plot.Mark;
import millrace.report.plot.PlotLinePoint;
import millrace.report.plot.PointWithErrorBar;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.plot.SeriesStyle;

/**
 * Two charts of the error of a range: over temperature at some voltages, and over voltage at some
 * temperatures. The condition box of a limit is drawn in (methods.md 11).
 */
public final class ResponseCharts {
  private static final int STEPS = 40;
  private static final double PPM = 1e6;
  private static final double NEAR_RATIO = 0.03;
  private static final double NEAR_K = 0.6;

  private final RangeResponse response;
  private final PromisedConditionBox box;
  private final Optional<Limit> limitPpm;
  private final Optional<String> stamp;

  /**
   * Creates the charts of a range.
   *
   * @param response the error of the range over temperature and voltage
   * @param box the conditions of the limit, or the measured conditions
   * @param limitPpm the limit there; empty if there is none
   * @param stamp a word that the charts must show
   */
  public ResponseCharts(
      RangeResponse response,
      PromisedConditionBox box,
      Optional<Limit> limitPpm,
      Optional<String> stamp) {
    this.response = response;
    this.box = box;
    this.limitPpm = limitPpm;
    this.stamp = stamp;
  }

  /** The error over temperature, at some voltages. */
  public Chart overTemperature() {
    return over(
        true,
        joined(response.domain().shownDegC(), box.temperatureDegC()),
        three(inside(box.voltageV(), response.domain().voltageV())));
  }

  /** The error over voltage, at some temperatures. */
  public Chart overVoltage() {
    return over(
        false,
        joined(response.domain().voltageV(), box.voltageV()),
        three(inside(box.temperatureDegC(), response.domain().shownDegC())));
  }

  private Chart over(boolean temperature, ClosedInterval along, double[] at) {
    List<Mark> marks = new ArrayList<>();
    for (int place = 0; place < at.length; place++) {
      double fixed = at[place];
      List<Sight> sights = new ArrayList<>();
      for (double x : steps(along)) {
        see(temperature ? x : fixed, temperature ? fixed : x, x).ifPresent(sights::add);
      }
      Dimension other = temperature ? Dimension.VOLTAGE : Dimension.TEMPERATURE;
      String name =
          fixed == 0 ? "0 V" : PrintedUnitSymbols.of(QuantityText.print(tidy(fixed), other));
      draw(marks, name, sights, place);
      measured(marks, name, place, temperature ? atVoltage(fixed) : atTemperature(fixed));
    }
    outline(marks, temperature ? box.temperatureDegC() : box.voltageV());
    marks.add(new Mark.Level("", 0));
    return new Chart(
        words(temperature ? "temperature of the unit" : "terminal voltage"),
        temperature
            ? Axis.of("Temperature", Dimension.TEMPERATURE)
            : Axis.of("Terminal voltage", Dimension.VOLTAGE),
        Axis.counted("Error", "ppm"),
        marks,
        Chart.Size.MULTIPLE);
  }

  private Chart.Words words(String over) {
    return new Chart.Words(
        response.range(),
        "Error of the current in ppm of nominal over "
            + over
            + ", as predicted from all points of the range, with a band of 2 u.",
        stamp);
  }

  /** A point of a curve with half the width of its band. */
  private record Sight(double x, double y, double half) {}

  private Optional<Sight> see(double degC, double volts, double x) {
    if (!response.wanting(PredictionCondition.atVoltage(degC, volts)).isEmpty()) {
      return Optional.empty();
    }
    double[] quick = response.errorAndUPpm(degC, volts);
    return Optional.of(new Sight(x, quick[0], 2 * quick[1]));
  }

  private static void draw(List<Mark> marks, String name, List<Sight> sights, int place) {
    if (sights.size() < 2) {
      return;
    }
    if (place == 0) {
      marks.add(new Mark.Band("2 u of the first line, all errors", edges(sights)));
    }
    List<PlotLinePoint> corners =
        sights.stream().map(s -> new PlotLinePoint(s.x(), s.y())).toList();
    marks.add(new Mark.Curve(name, SeriesStyle.nth(place), corners));
  }

  private static List<BandEdges> edges(List<Sight> sights) {
    return sights.stream()
        .map(s -> new BandEdges(s.x(), s.y() - s.half(), s.y() + s.half()))
        .toList();
  }

  private static void measured(
      List<Mark> marks, String name, int place, List<PointWithErrorBar> spots) {
    if (!spots.isEmpty()) {
      marks.add(Mark.Points.of("measured at " + name, SeriesStyle.nth(place), spots));
    }
  }

  private List<PointWithErrorBar> atVoltage(double volts) {
    double reach = NEAR_RATIO * Math.max(box.voltageV().upper(), Math.abs(volts));
    return response.points().stream()
        .filter(p -> Math.abs(volts(p) - volts) <= reach)
        .map(p -> PointWithErrorBar.of(p.temperatureDegC().value(), ppm(p), bar(p)))
        .toList();
  }

  private List<PointWithErrorBar> atTemperature(double degC) {
    return response.points().stream()
        .filter(p -> Math.abs(p.temperatureDegC().value() - degC) <= NEAR_K)
        .map(p -> PointWithErrorBar.of(volts(p), ppm(p), bar(p)))
        .toList();
  }

  private double volts(ResponsePoint p) {
    return Math.signum(response.nominalA()) * p.voltageV().value();
  }

  private double ppm(ResponsePoint p) {
    return (p.currentA().value() / response.nominalA() - 1) * PPM;
  }

  private double bar(ResponsePoint p) {
    return 2 * p.currentA().pointUncertainty() / Math.abs(response.nominalA()) * PPM;
  }

  /** The box of the limit: its conditions horizontally, its limits vertically. */
  private void outline(List<Mark> marks, ClosedInterval across) {
    if (limitPpm.isEmpty()) {
      return;
    }
    Limit limit = limitPpm.get();
    if (limit.twoSided() && across.lower() < across.upper()) {
      double low = limit.lower().orElseThrow();
      double high = limit.upper().orElseThrow();
      marks.add(
          new Mark.Curve(
              "box of the limit",
              SeriesStyle.FOURTH,
              List.of(
                  new PlotLinePoint(across.lower(), low),
                  new PlotLinePoint(across.upper(), low),
                  new PlotLinePoint(across.upper(), high),
                  new PlotLinePoint(across.lower(), high),
                  new PlotLinePoint(across.lower(), low))));
      return;
    }
    for (OptionalDouble side : List.of(limit.lower(), limit.upper())) {
      side.ifPresent(
          y ->
              marks.add(
                  new Mark.Curve(
                      "box of the limit",
                      SeriesStyle.FOURTH,
                      List.of(
                          new PlotLinePoint(across.lower(), y),
                          new PlotLinePoint(across.upper(), y)))));
    }
  }

  private static ClosedInterval joined(ClosedInterval a, ClosedInterval b) {
    return new ClosedInterval(Math.min(a.lower(), b.lower()), Math.max(a.upper(), b.upper()));
  }

  /** The measured part of a box; the whole box if no part was measured. */
  private static ClosedInterval inside(ClosedInterval box, ClosedInterval known) {
    double low = Math.max(box.lower(), known.lower());
    double high = Math.min(box.upper(), known.upper());
    return low <= high ? new ClosedInterval(low, high) : box;
  }

  private static double[] three(ClosedInterval span) {
    return span.lower() == span.upper()
        ? new double[] {span.lower()}
        : new double[] {span.lower(), (span.lower() + span.upper()) / 2, span.upper()};
  }

  private static double[] steps(ClosedInterval span) {
    double[] all = new double[STEPS + 1];
    for (int i = 0; i <= STEPS; i++) {
      double share = i / (double) STEPS;
      all[i] = span.lower() * (1 - share) + span.upper() * share;
    }
    return all;
  }

  private static double tidy(double value) {
    return Math.round(value * 10) / 10.0;
  }
}
