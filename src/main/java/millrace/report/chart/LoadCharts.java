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
import millrace.assessment.range.LoadStudy;
import millrace.quantity.Dimension;
import millrace.quantity.Numbers;
import millrace.quantity.Quantities;
import millrace.report.chart.Directions.Way;
import millrace.report.plot.Axis;
import millrace.report.plot.Chart;
import millrace.report.plot.Corner;
import millrace.report.plot.Look;
import millrace.report.plot.Mark;
import millrace.report.plot.Spot;

/** One load sweep in pictures: the whole curve, its knee, and what the plateau line leaves over. */
public final class LoadCharts {
  private static final double PPM = 1e6;
  private static final double PERCENT = 100;

  /** How many criteria deep the picture of the knee goes. */
  private static final double DEPTH = 10;

  private static final double HALF_WAY = 0.5;
  private static final int DIGITS = 3;

  private static final String BARS = ", bars 2 u (errors of single points)";

  private final LoadStudy study;
  private final LoadCurve curve;
  private final Found found;
  private final Optional<String> stamp;
  private final double farV;
  private final double nearA;
  private final double farA;

  /**
   * What the results say of a sweep.
   *
   * @param compliance compliance voltage; empty if it was not reached or not computed
   * @param knee knee voltage; empty if it was not computed
   * @param directions how points were come to
   */
  public record Found(
      Optional<Mark.Upright> compliance, Optional<Mark.Upright> knee, Directions directions) {}

  /**
   * Of one range at one temperature.
   *
   * @param study what was fitted there
   * @param found the results that are drawn in
   * @param stamp what stands across what was simulated; empty otherwise
   */
  public LoadCharts(LoadStudy study, Found found, Optional<String> stamp) {
    this.study = study;
    this.curve = study.curve();
    this.found = found;
    this.stamp = stamp;
    this.farV = curve.highestV() > 0 ? curve.highestV() : 1;
    this.nearA = curve.currentAtA(0).value();
    this.farA = curve.currentAtA(farV).value();
  }

  /** The plateau line at a voltage, A; through two of its points, since each costs a budget. */
  private double lineA(double volt) {
    return nearA + (farA - nearA) * (volt / farV);
  }

  private String where() {
    String at =
        study.temperatureDegC().isPresent()
            ? " at " + Numbers.fixed(study.temperatureDegC().getAsDouble(), 1) + " \u00b0C"
            : "";
    String supply =
        study.supplyV().isPresent()
            ? ", supply " + Quantities.print(study.supplyV().getAsDouble(), Dimension.VOLTAGE)
            : "";
    return "Range " + study.range() + at + supply;
  }

  private static double volts(LoadPoint p) {
    return p.voltageV().value();
  }

  private static double bar(LoadPoint p) {
    return 2 * p.currentA().pointUncertainty();
  }

  /** Current against voltage, all points, with the plateau line. */
  public Chart whole() {
    List<Mark> marks = new ArrayList<>();
    marks.add(line());
    marks.addAll(series(curve.points(), p -> Spot.of(volts(p), p.currentA().value(), bar(p))));
    marks.addAll(uprights());
    Chart.Words words =
        new Chart.Words(
            where() + ": current against terminal voltage",
            "The current stays on the plateau line and "
                + (curve.crossing().isPresent()
                    ? "falls away from it at the compliance voltage."
                    : "does not fall away from it up to the highest voltage tested."),
            stamp);
    Axis up = Axis.of("Current", Dimension.CURRENT);
    return new Chart(words, voltage(), up, marks, Chart.Size.PAGE);
  }

  private static Axis voltage() {
    return Axis.of("Terminal voltage", Dimension.VOLTAGE);
  }

  private Mark.Curve line() {
    double far = curve.points().stream().mapToDouble(LoadCharts::volts).max().orElse(0);
    double near = curve.points().stream().mapToDouble(LoadCharts::volts).min().orElse(0);
    return new Mark.Curve("plateau line", Look.FOURTH, List.of(corner(near), corner(far)));
  }

  private Corner corner(double v) {
    return new Corner(v, lineA(v));
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
                        "promised up to " + Quantities.print(v, Dimension.VOLTAGE), sign * v, 0)));
    return marks;
  }

  /** How a point of a sweep becomes a point of a plot. */
  private interface Placing {
    Spot spot(LoadPoint point);
  }

  /** The points as one series for each way in which they were come to, side by side. */
  private List<Mark> series(List<LoadPoint> points, Placing placing) {
    Map<Way, List<Spot>> steady = new EnumMap<>(Way.class);
    List<Spot> unsteady = new ArrayList<>();
    for (LoadPoint p : points) {
      List<Spot> to =
          p.unsteady()
              ? unsteady
              : steady.computeIfAbsent(found.directions().of(p), w -> new ArrayList<>());
      to.add(placing.spot(p));
    }
    List<Mark> marks = new ArrayList<>();
    steady.forEach((way, spots) -> marks.add(named(way, spots, steady.size(), marks.isEmpty())));
    if (!unsteady.isEmpty()) {
      marks.add(Mark.Points.of("unsteady, kept out of the line", Look.FOURTH, unsteady));
    }
    return marks;
  }

  private static Mark named(Way way, List<Spot> spots, int ways, boolean first) {
    String name = way.words() + (first ? BARS : "");
    return new Mark.Points(name, way.look(), spots, ways == 1 ? 0 : way.asidePx());
  }

  /**
   * The fall of the current at its criterion, close up.
   *
   * @return empty where the criterion was not reached
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
    marks.add(new Mark.Level(origin(), 0));
    marks.add(
        new Mark.Level(
            "criterion: " + Quantities.print(criterion, Dimension.RATIO) + " lower",
            -criterion * PERCENT));
    marks.addAll(uprights());
    int left = near.size() - shown.size();
    Chart.Words words =
        new Chart.Words(
            where()
                + ": the knee close up"
                + (left == 0 ? "" : ", deeper: " + Numbers.counted(left, "point")),
            "The fall of the current from the "
                + origin()
                + ", in per cent; it passes the criterion"
                + " at the compliance voltage.",
            stamp);
    Axis up = Axis.counted("Fall of current", "%");
    return new Chart(words, voltage(), up, marks, Chart.Size.PAGE);
  }

  /** How far down the picture goes: the first point beyond the knee is always in it. */
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

  private Spot kneeSpot(LoadPoint p) {
    return Spot.of(volts(p), fall(p), bar(p) / Math.abs(reference(p)) * PERCENT);
  }

  /**
   * What the current deviates from the straight line that makes the largest deviation smallest, and
   * the two other lines that linearity is told against.
   *
   * @return empty with too few voltages
   */
  public Optional<Chart> linearity() {
    return LoadLinearity.lines(curve).map(this::deviations);
  }

  private Chart deviations(LoadLinearity.Lines lines) {
    LinearityDeviation best = lines.independent();
    List<Spot> spots = new ArrayList<>();
    for (int i = 0; i < lines.voltV().size(); i++) {
      double v = lines.voltV().get(i);
      double left = lines.currentA().get(i) - best.intercept() - best.slope() * v;
      spots.add(Spot.of(v, left / nominalA() * PPM, 0));
    }
    double largest = best.largest() / nominalA() * PPM;
    double far = lines.voltV().get(spots.size() - 1);
    List<Mark> marks =
        List.of(
            Mark.Points.of("means of each load", Look.FIRST, spots),
            against("line through both ends", Look.SECOND, lines.terminal(), lines),
            against("line through the first point", Look.THIRD, lines.zeroBased(), lines),
            new Mark.Level("largest deviation", largest),
            new Mark.Level("largest deviation", -largest));
    Chart.Words words =
        new Chart.Words(
            where() + ": linearity up to " + Quantities.print(far, Dimension.VOLTAGE, DIGITS),
            "What the current deviates from the straight line that makes the largest deviation"
                + " smallest, in ppm of the nominal current.",
            stamp);
    return new Chart(
        words, voltage(), Axis.counted("Deviation", "ppm").with(0), marks, Chart.Size.STRIP);
  }

  private Mark against(String name, Look look, LinearityDeviation line, LoadLinearity.Lines lines) {
    LinearityDeviation best = lines.independent();
    List<Corner> corners = new ArrayList<>();
    for (double v : List.of(lines.voltV().get(0), lines.voltV().get(lines.voltV().size() - 1))) {
      double apart = line.intercept() - best.intercept() + (line.slope() - best.slope()) * v;
      corners.add(new Corner(v, apart / nominalA() * PPM));
    }
    return new Mark.Curve(name, look, corners);
  }

  /** What ppm are counted of; where no nominal current is known, the current into a short. */
  private double nominalA() {
    double nominal = curve.question().nominalA();
    return Math.abs(nominal == 0 ? curve.shortCurrentA().value() : nominal);
  }

  /** What the plateau line leaves over, in ppm of the nominal current. */
  public Chart residuals(Chart.Size size) {
    double nominal = nominalA();
    List<Mark> marks = new ArrayList<>();
    marks.addAll(
        series(
            curve.plateau(),
            p ->
                Spot.of(
                    volts(p),
                    (p.currentA().value() - lineA(volts(p))) / nominal * PPM,
                    bar(p) / nominal * PPM)));
    boolean page = !size.equals(Chart.Size.HALF);
    if (page) {
      marks.add(new Mark.Level("plateau line", 0));
    }
    Chart.Words words =
        new Chart.Words(
            where() + (page ? ": residuals from the plateau line" : ": residuals"),
            "What each plateau point differs from the plateau line, in ppm of the nominal current.",
            stamp);
    Axis up = Axis.counted("Residual", "ppm").with(0);
    return new Chart(words, voltage(), up, marks, size);
  }
}
