// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.analysis.linearity.LinearityDeviation;
import millrace.analysis.linearity.LoadLinearity;
import millrace.analysis.load.LoadCurve;
import millrace.analysis.load.LoadPoint;
import millrace.assessment.range.LoadSweepStudy;
import millrace.evidence.Limit;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;
import millrace.report.chart.PointsBySweepDirection.Way;
import millrace.report.plot.Axis;
import millrace.report.plot.Chart;
import millrace.report.plot.Mark;
import millrace.report.plot.PlotLinePoint;
import millrace.report.plot.PointWithErrorBar;
import millrace.report.plot.SeriesStyle;

/** Charts of one load sweep: the whole curve, its knee, and the residuals of the plateau line. */
public final class LoadCharts {
  private static final double PPM = 1e6;
  private static final double PERCENT = 100;

  /** Depth of the knee chart, in multiples of the criterion. */
  private static final double DEPTH = 10;

  private static final double HALF_WAY = 0.5;
  private static final int DIGITS = 3;

  private final LoadSweepStudy study;
  private final LoadCurve curve;
  private final Found found;
  private final Optional<String> stamp;
  private final double farV;
  private final double nearA;
  private final double farA;

  /**
   * Results of a sweep that the charts show.
   *
   * @param compliance compliance voltage; empty if it was not reached or not computed
   * @param knee knee voltage; empty if it was not computed
   * @param directions the sweep direction of each point
   */
  public record Found(
      Optional<Mark.Upright> compliance,
      Optional<Mark.Upright> knee,
      PointsBySweepDirection directions) {}

  /**
   * Charts of one range at one temperature.
   *
   * @param study the fit
   * @param found results to draw
   * @param stamp mark for a simulated run; empty otherwise
   */
  public LoadCharts(LoadSweepStudy study, Found found, Optional<String> stamp) {
    this.study = study;
    this.curve = study.curve();
    this.found = found;
    this.stamp = stamp;
    this.farV = curve.highestV() > 0 ? curve.highestV() : 1;
    this.nearA = curve.currentAtA(0).value();
    this.farA = curve.currentAtA(farV).value();
  }

  /**
   * The plateau line at a voltage, A. It is computed from two of its points, since each point costs
   * an uncertainty budget.
   */
  private double lineA(double volt) {
    return nearA + (farA - nearA) * (volt / farV);
  }

  private String where() {
    String at =
        study.temperatureDegC().isPresent()
            ? ", " + NumberText.fixed(study.temperatureDegC().getAsDouble(), 1) + "\u00a0\u00b0C"
            : "";
    String supply =
        study.supplyV().isPresent()
            ? ", supply " + QuantityText.print(study.supplyV().getAsDouble(), Dimension.VOLTAGE)
            : "";
    return study.range() + at + supply;
  }

  private static double volts(LoadPoint p) {
    return p.voltageV().value();
  }

  private static double bar(LoadPoint p) {
    return 2 * p.currentA().pointUncertainty();
  }

  /**
   * The plateau in ppm of the nominal current. The knee is left out, since it would set the scale.
   *
   * @param limit limit of the load regulation, ppm/V; empty for no limit
   */
  public Chart plateau(Optional<Limit> limit) {
    List<Mark> marks = new ArrayList<>();
    double far = curve.plateau().stream().mapToDouble(LoadCharts::volts).max().orElse(0);
    double near = curve.plateau().stream().mapToDouble(LoadCharts::volts).min().orElse(0);
    marks.add(
        new Mark.Curve(
            "plateau line",
            SeriesStyle.SECOND,
            List.of(
                new PlotLinePoint(near, ppm(lineA(near))),
                new PlotLinePoint(far, ppm(lineA(far))))));
    marks.addAll(series(curve.plateau(), this::plateauSpot));
    marks.add(new Mark.Level("", 0));
    double largest =
        curve.plateau().stream().mapToDouble(p -> Math.abs(plateauSpot(p).y())).max().orElse(0);
    limit.ifPresent(
        l -> marks.addAll(SlopeLimitLines.lines(l, SlopeLimitLines.fan(0, far), largest)));
    return new Chart(
        words(
            "plateau",
            "The current on the plateau less that of the plateau line at 0 V, in ppm of nominal."),
        voltage(),
        Axis.counted("Change", "ppm"),
        marks,
        Chart.Size.MULTIPLE);
  }

  private double ppm(double currentA) {
    return (currentA - nearA) / nominalA() * PPM;
  }

  private PointWithErrorBar plateauSpot(LoadPoint p) {
    return PointWithErrorBar.of(volts(p), ppm(p.currentA().value()), bar(p) / nominalA() * PPM);
  }

  private Chart.Words words(String what, String description) {
    return new Chart.Words(where(), what + ": " + description, stamp);
  }

  private static Axis voltage() {
    return Axis.of("Terminal voltage", Dimension.VOLTAGE);
  }

  private List<Mark> uprights() {
    List<Mark> marks = new ArrayList<>();
    double sign = Math.signum(curve.question().nominalA());
    found.compliance().ifPresent(marks::add);
    found.knee().ifPresent(marks::add);
    curve
        .question()
        .complianceV()
        .ifPresent(
            v ->
                marks.add(
                    new Mark.Upright(
                        "promised " + QuantityText.print(v, Dimension.VOLTAGE), sign * v, 0)));
    return marks;
  }

  /** Turns a point of a sweep into a point of a plot. */
  private interface Placing {
    PointWithErrorBar spot(LoadPoint point);
  }

  /** The points as one series per sweep direction, drawn side by side. */
  private List<Mark> series(List<LoadPoint> points, Placing placing) {
    Map<Way, List<PointWithErrorBar>> steady = new EnumMap<>(Way.class);
    List<PointWithErrorBar> unsteady = new ArrayList<>();
    for (LoadPoint p : points) {
      List<PointWithErrorBar> to =
          p.unsteady()
              ? unsteady
              : steady.computeIfAbsent(found.directions().of(p), w -> new ArrayList<>());
      to.add(placing.spot(p));
    }
    List<Mark> marks = new ArrayList<>();
    steady.forEach((way, spots) -> marks.add(named(way, spots, steady.size())));
    if (!unsteady.isEmpty()) {
      marks.add(Mark.Points.of("unsteady, kept out of the line", SeriesStyle.FOURTH, unsteady));
    }
    return marks;
  }

  private static Mark named(Way way, List<PointWithErrorBar> spots, int ways) {
    return new Mark.Points(way.barred(), way.look(), spots, ways == 1 ? 0 : way.asidePx());
  }

  /**
   * The current near its criterion, enlarged.
   *
   * @return the chart; empty if the current did not reach the criterion
   */
  public Optional<Chart> knee() {
    return curve.crossing().map(c -> close());
  }

  private Chart close() {
    double criterion = curve.question().criterion();
    double deepest = deepest(criterion);
    double from = HALF_WAY * Math.abs(curve.highestV());
    List<LoadPoint> near = curve.points().stream().filter(p -> Math.abs(volts(p)) >= from).toList();
    List<LoadPoint> shown = near.stream().filter(p -> fall(p) >= deepest).toList();
    List<Mark> marks = new ArrayList<>();
    marks.addAll(series(shown, this::kneeSpot));
    marks.add(new Mark.Level("", 0));
    double far = near.stream().mapToDouble(LoadCharts::volts).max().orElse(from);
    double low = near.stream().mapToDouble(LoadCharts::volts).min().orElse(from);
    marks.add(
        new Mark.Curve(
            "criterion of the compliance voltage",
            SeriesStyle.FOURTH,
            List.of(
                new PlotLinePoint(low, -criterion * PERCENT),
                new PlotLinePoint(far, -criterion * PERCENT))));
    marks.addAll(uprights());
    int left = near.size() - shown.size();
    Chart.Words words =
        words(
            "knee",
            "The fall of the current from the "
                + origin()
                + ", in per cent; it passes the criterion at the compliance voltage."
                + (left == 0 ? "" : " Deeper: " + NumberText.counted(left, "point") + "."));
    Axis up = Axis.counted("Fall", "%");
    return new Chart(words, voltage(), up, marks, Chart.Size.MULTIPLE);
  }

  /** The number of points that are too deep for the knee chart. */
  public int deeper() {
    double deepest = deepest(curve.question().criterion());
    return (int) curve.points().stream().filter(p -> fall(p) < deepest).count();
  }

  /** The lower end of the knee chart; it always includes the first point beyond the knee. */
  private double deepest(double criterion) {
    double first =
        curve.points().stream()
            .mapToDouble(this::fall)
            .filter(y -> y <= -criterion * PERCENT)
            .max()
            .orElse(0);
    return Math.min(first, -DEPTH * criterion * PERCENT);
  }

  private String origin() {
    return curve.question().fromLine() ? "plateau line" : "current into a short";
  }

  private double reference(LoadPoint p) {
    return curve.question().fromLine() ? lineA(volts(p)) : curve.shortCurrentA().value();
  }

  private double fall(LoadPoint p) {
    return (p.currentA().value() / reference(p) - 1) * PERCENT;
  }

  private PointWithErrorBar kneeSpot(LoadPoint p) {
    return PointWithErrorBar.of(volts(p), fall(p), bar(p) / Math.abs(reference(p)) * PERCENT);
  }

  /**
   * Deviation of the current from the minimax line, which makes the largest deviation smallest. The
   * two other reference lines for linearity are drawn as well.
   *
   * @return the chart; empty with too few voltages
   */
  public Optional<Chart> linearity() {
    return LoadLinearity.lines(curve).map(this::deviations);
  }

  private Chart deviations(LoadLinearity.Lines lines) {
    LinearityDeviation best = lines.independent();
    List<PointWithErrorBar> spots = new ArrayList<>();
    for (int i = 0; i < lines.voltV().size(); i++) {
      double v = lines.voltV().get(i);
      double left = lines.currentA().get(i) - best.intercept() - best.slope() * v;
      spots.add(PointWithErrorBar.of(v, left / nominalA() * PPM, 0));
    }
    double far = lines.voltV().get(spots.size() - 1);
    double largest = best.largest() / nominalA() * PPM;
    List<Mark> marks = new ArrayList<>();
    marks.add(Mark.Points.of("means of each load", SeriesStyle.FIRST, spots));
    marks.add(against("line through both ends", SeriesStyle.SECOND, lines.terminal(), lines));
    marks.add(against("line through the first point", SeriesStyle.THIRD, lines.zeroBased(), lines));
    for (double y : new double[] {largest, -largest}) {
      marks.add(
          new Mark.Curve(
              "largest deviation",
              SeriesStyle.FOURTH,
              List.of(new PlotLinePoint(0, y), new PlotLinePoint(far, y))));
    }
    marks.add(new Mark.Level("", 0));
    Chart.Words words =
        words(
            "linearity up to " + QuantityText.print(far, Dimension.VOLTAGE, DIGITS),
            "What the current deviates from the straight line that makes the largest deviation"
                + " smallest, in ppm of the nominal current.");
    return new Chart(
        words, voltage(), Axis.counted("Deviation", "ppm"), marks, Chart.Size.MULTIPLE);
  }

  private Mark against(
      String name, SeriesStyle seriesStyle, LinearityDeviation line, LoadLinearity.Lines lines) {
    LinearityDeviation best = lines.independent();
    List<PlotLinePoint> corners = new ArrayList<>();
    for (double v : List.of(lines.voltV().get(0), lines.voltV().get(lines.voltV().size() - 1))) {
      double apart = line.intercept() - best.intercept() + (line.slope() - best.slope()) * v;
      corners.add(new PlotLinePoint(v, apart / nominalA() * PPM));
    }
    return new Mark.Curve(name, seriesStyle, corners);
  }

  /**
   * The reference of ppm: the nominal current, or the current into a short if no nominal is known.
   */
  private double nominalA() {
    double nominal = curve.question().nominalA();
    return Math.abs(nominal == 0 ? curve.shortCurrentA().value() : nominal);
  }

  /**
   * Residuals of the plateau line.
   *
   * @return per plateau point, by sweep direction: terminal voltage, V, and residual with its bar,
   *     ppm of nominal
   */
  Map<Way, List<PointWithErrorBar>> residuals() {
    Map<Way, List<PointWithErrorBar>> all = new EnumMap<>(Way.class);
    double nominal = nominalA();
    for (LoadPoint p : curve.plateau()) {
      double left = (p.currentA().value() - lineA(volts(p))) / nominal * PPM;
      all.computeIfAbsent(found.directions().of(p), w -> new ArrayList<>())
          .add(PointWithErrorBar.of(volts(p), left, bar(p) / nominal * PPM));
    }
    return all;
  }

  /** The place of the measurement in a few words. */
  String shortly() {
    return study.temperatureDegC().isPresent()
        ? NumberText.fixed(study.temperatureDegC().getAsDouble(), 1) + "\u00a0\u00b0C"
        : "stay " + (study.stay() + 1);
  }
}
