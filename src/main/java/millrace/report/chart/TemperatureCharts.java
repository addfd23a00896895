// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.analysis.temperature.TemperatureLine;
import millrace.analysis.temperature.TemperaturePoint;
import millrace.analysis.temperature.TemperatureStudy;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.range.RangeTemperatureStudy;
import millrace.evidence.Limit;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.report.plot.Axis;
import millrace.report.plot.BandEdges;
import millrace.report.plot.Chart;
import millrace.report.plot.Mark;
import millrace.report.plot.PlotLinePoint;
import millrace.report.plot.PointWithErrorBar;
import millrace.report.plot.SeriesStyle;

/** Charts of the current of a range over temperature, with the fitted line and its band. */
public final class TemperatureCharts {
  private static final int STEPS = 40;
  private static final double SAME_K = 0.5;
  private static final String VISITS = "visits, bars 2 u (errors of single visits)";

  private TemperatureCharts() {}

  /**
   * The plot of one range.
   *
   * @param range the temperature study of the range
   * @param limit limit of the temperature coefficient, ppm/K; empty for no limit
   * @param stamp a word that the plot must show
   */
  public static Chart of(
      RangeTemperatureStudy range, Optional<Limit> limit, Optional<String> stamp) {
    TemperatureStudy study = range.study();
    List<Mark> marks = new ArrayList<>();
    study.slope().ifPresent(line -> fit(study, line, marks));
    List<PointWithErrorBar> visits = study.points().stream().map(p -> spot(study, p)).toList();
    marks.add(Mark.Points.of(VISITS, SeriesStyle.FIRST, visits));
    marks.add(
        new Mark.Upright(
            "reference " + NumberText.fixed(study.referenceDegC(), 1) + " \u00b0C",
            study.referenceDegC(),
            0));
    marks.add(new Mark.Level("", 0));
    double largest = visits.stream().mapToDouble(s -> Math.abs(s.y())).max().orElse(0);
    SlopeLimitLines.Fan fan =
        new SlopeLimitLines.Fan(ends(study, true), ends(study, false), study.referenceDegC());
    limit.ifPresent(l -> marks.addAll(SlopeLimitLines.lines(l, fan, largest)));
    Chart.Words words =
        new Chart.Words(
            range.range(),
            "Change of the current from its value at the reference temperature, in ppm, with the"
                + " least-squares line.",
            stamp);
    Axis across = Axis.of("Temperature", Dimension.TEMPERATURE);
    Axis up = Axis.counted("Change", "ppm");
    return new Chart(words, across, up, marks, Chart.Size.MULTIPLE);
  }

  /**
   * The distance between visits of one temperature, which no slope over temperature explains.
   *
   * @param range the temperature study of the range
   * @return such as {@code 2 visits of 23.1 degC lie 0.4 ppm apart}; empty where no temperature was
   *     visited twice
   */
  public static Optional<String> spread(RangeTemperatureStudy range) {
    TemperatureStudy study = range.study();
    double most = -1;
    String words = "";
    for (TemperaturePoint p : study.points()) {
      double at = p.temperatureDegC().value();
      List<Double> same =
          study.points().stream()
              .filter(q -> Math.abs(q.temperatureDegC().value() - at) <= SAME_K)
              .map(q -> study.ppm(q).value())
              .sorted()
              .toList();
      double apart = same.get(same.size() - 1) - same.get(0);
      if (same.size() > 1 && apart > most) {
        most = apart;
        words =
            "%s visits at %s \u00b0C lie within %s ppm"
                .formatted(same.size(), NumberText.fixed(at, 1), NumberText.significant(apart, 2));
      }
    }
    return Optional.of(words).filter(w -> !w.isEmpty());
  }

  /**
   * Residuals of the lines, on one scale for all ranges. They show curvature, hysteresis or an
   * outlier.
   *
   * @param ranges the temperature studies of the ranges
   * @param stamp a word that the plots must show
   * @return charts by range; a range is left out if its line necessarily passes through all visits
   */
  public static Map<String, Chart> residuals(
      List<RangeTemperatureStudy> ranges, Optional<String> stamp) {
    Map<String, List<PointWithErrorBar>> left = new LinkedHashMap<>();
    for (RangeTemperatureStudy range : ranges) {
      TemperatureStudy study = range.study();
      study
          .slope()
          .filter(l -> study.points().size() > 2)
          .ifPresent(
              l ->
                  left.put(
                      range.range(), study.points().stream().map(p -> left(study, l, p)).toList()));
    }
    double highest =
        left.values().stream()
            .flatMap(List::stream)
            .mapToDouble(s -> Math.abs(s.y()) + s.halfY())
            .max()
            .orElse(1);
    Map<String, Chart> charts = new LinkedHashMap<>();
    left.forEach((range, spots) -> charts.put(range, left(range, spots, highest, stamp)));
    return charts;
  }

  private static Chart left(
      String range, List<PointWithErrorBar> spots, double highest, Optional<String> stamp) {
    return new Chart(
        new Chart.Words(
            range, "What each visit differs from the least-squares line, in ppm.", stamp),
        Axis.of("Temperature", Dimension.TEMPERATURE),
        Axis.counted("Residual", "ppm").with(highest).with(-highest),
        List.of(Mark.Points.of(VISITS, SeriesStyle.FIRST, spots), new Mark.Level("", 0)),
        Chart.Size.LOW);
  }

  private static PointWithErrorBar left(
      TemperatureStudy study, TemperatureLine line, TemperaturePoint p) {
    PointWithErrorBar at = spot(study, p);
    double onLine = line.at(at.x() - study.referenceDegC()).value();
    return new PointWithErrorBar(at.x(), at.y() - onLine, 0, at.halfY());
  }

  private static PointWithErrorBar spot(TemperatureStudy study, TemperaturePoint p) {
    double u = p.currentA().pointUncertainty() / Math.abs(study.referenceA().value()) * 1e6;
    return new PointWithErrorBar(
        p.temperatureDegC().value(),
        study.ppm(p).value(),
        2 * p.temperatureDegC().pointUncertainty(),
        2 * u);
  }

  private static void fit(TemperatureStudy study, TemperatureLine line, List<Mark> marks) {
    List<BandEdges> band = new ArrayList<>();
    List<PlotLinePoint> corners = new ArrayList<>();
    double low = ends(study, true);
    double high = ends(study, false);
    for (int i = 0; i <= STEPS; i++) {
      double t = low + (high - low) * i / STEPS;
      Estimate y = line.at(t - study.referenceDegC());
      double half = 2 * y.standardUncertainty();
      corners.add(new PlotLinePoint(t, y.value()));
      band.add(new BandEdges(t, y.value() - half, y.value() + half));
    }
    marks.add(new Mark.Band("band of 2 u of the line, all errors", band));
    marks.add(new Mark.Curve("least-squares line", SeriesStyle.SECOND, corners));
  }

  private static double ends(TemperatureStudy study, boolean low) {
    var all = study.points().stream().mapToDouble(p -> p.temperatureDegC().value());
    return (low ? all.min() : all.max()).orElse(study.referenceDegC());
  }
}
