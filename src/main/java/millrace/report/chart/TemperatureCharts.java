// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.analysis.temperature.TemperatureLine;
import millrace.analysis.temperature.TemperaturePoint;
import millrace.analysis.temperature.TemperatureStudy;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.range.RangeStudy;
import millrace.quantity.Dimension;
import millrace.quantity.Numbers;
import millrace.report.plot.Axis;
import millrace.report.plot.Chart;
import millrace.report.plot.Corner;
import millrace.report.plot.Edges;
import millrace.report.plot.Look;
import millrace.report.plot.Mark;
import millrace.report.plot.Spot;

/** How the current of one range moves with temperature, with the fitted line and its band. */
public final class TemperatureCharts {
  private static final int STEPS = 40;

  private TemperatureCharts() {}

  /**
   * The plot of one range.
   *
   * @param range its study
   * @param slope the slope as stated; empty if not computed
   * @param stamp a word that must be on it
   */
  public static Chart of(RangeStudy range, Optional<String> slope, Optional<String> stamp) {
    TemperatureStudy study = range.study();
    List<Mark> marks = new ArrayList<>();
    study.slope().ifPresent(line -> fit(study, line, slope, marks));
    List<Spot> stays = study.points().stream().map(p -> spot(study, p)).toList();
    marks.add(Mark.Points.of("stays, bars 2 u (errors of single stays)", Look.FIRST, stays));
    marks.add(
        new Mark.Upright(
            "reference " + Numbers.fixed(study.referenceDegC(), 1) + " \u00b0C",
            study.referenceDegC(),
            0));
    Chart.Words words =
        new Chart.Words(
            "Range " + range.range() + ": current against temperature of the unit",
            "Change of the current from its value at the reference temperature, in ppm, with the"
                + " least-squares line.",
            stamp);
    Axis across = Axis.of("Temperature of the unit", Dimension.TEMPERATURE);
    Axis up = Axis.counted("Change of current", "ppm").with(0);
    return new Chart(words, across, up, marks, Chart.Size.PAGE);
  }

  /**
   * What the line leaves over: where a curve, a hysteresis or a wild stay would show.
   *
   * @param range its study
   * @param stamp a word that must be on it
   * @return empty without a line, or where it goes through all stays by necessity
   */
  public static Optional<Chart> residuals(RangeStudy range, Optional<String> stamp) {
    TemperatureStudy study = range.study();
    return study.slope().filter(l -> study.points().size() > 2).map(l -> left(range, l, stamp));
  }

  private static Chart left(RangeStudy range, TemperatureLine line, Optional<String> stamp) {
    TemperatureStudy study = range.study();
    List<Spot> spots = study.points().stream().map(p -> left(study, line, p)).toList();
    Chart.Words words =
        new Chart.Words(
            "Range " + range.range() + ": residuals from the line over temperature",
            "What each stay differs from the least-squares line, in ppm.",
            stamp);
    List<Mark> marks =
        List.of(
            Mark.Points.of("stays, bars 2 u (errors of single stays)", Look.FIRST, spots),
            new Mark.Level("line", 0));
    return new Chart(
        words,
        Axis.of("Temperature of the unit", Dimension.TEMPERATURE),
        Axis.counted("Residual", "ppm"),
        marks,
        Chart.Size.STRIP);
  }

  private static Spot left(TemperatureStudy study, TemperatureLine line, TemperaturePoint p) {
    Spot at = spot(study, p);
    double onLine = line.at(at.x() - study.referenceDegC()).value();
    return new Spot(at.x(), at.y() - onLine, 0, at.halfY());
  }

  private static Spot spot(TemperatureStudy study, TemperaturePoint p) {
    double u = p.currentA().pointUncertainty() / Math.abs(study.referenceA().value()) * 1e6;
    return new Spot(
        p.temperatureDegC().value(),
        study.ppm(p).value(),
        2 * p.temperatureDegC().pointUncertainty(),
        2 * u);
  }

  private static void fit(
      TemperatureStudy study, TemperatureLine line, Optional<String> slope, List<Mark> marks) {
    List<Edges> band = new ArrayList<>();
    List<Corner> corners = new ArrayList<>();
    double low = ends(study, true);
    double high = ends(study, false);
    for (int i = 0; i <= STEPS; i++) {
      double t = low + (high - low) * i / STEPS;
      Estimate y = line.at(t - study.referenceDegC());
      double half = 2 * y.standardUncertainty();
      corners.add(new Corner(t, y.value()));
      band.add(new Edges(t, y.value() - half, y.value() + half));
    }
    marks.add(new Mark.Band("band of 2 u of the line, all errors", band));
    String name = "least-squares line" + slope.map(s -> ", " + s).orElse("");
    marks.add(new Mark.Curve(name, Look.SECOND, corners));
  }

  private static double ends(TemperatureStudy study, boolean low) {
    var all = study.points().stream().mapToDouble(p -> p.temperatureDegC().value());
    return (low ? all.min() : all.max()).orElse(study.referenceDegC());
  }
}
