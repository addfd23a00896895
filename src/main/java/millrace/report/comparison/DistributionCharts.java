// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import millrace.analysis.batch.IndividualsChart;
import millrace.assessment.comparison.BatchDistribution;
import millrace.assessment.comparison.BatchDistribution.Entry;
import millrace.assessment.comparison.ComparedRun;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Limit;
import millrace.quantity.Dimension;
import millrace.report.page.ReportContext;
import millrace.report.plot.Axis;
import millrace.report.plot.Chart;
import millrace.report.plot.Mark;
import millrace.report.plot.PlotLinePoint;
import millrace.report.plot.PointWithErrorBar;
import millrace.report.plot.SeriesStyle;

/**
 * Charts of a quantity over a batch. A small batch is drawn as dots with bars and serial numbers, a
 * large one as a distribution; a second chart shows the order in time. Each chart marks the failed
 * units.
 */
final class DistributionCharts {
  /** Number of units from which a histogram replaces one line per unit. */
  static final int MANY = 25;

  private static final int FEWEST = 2;
  private static final int MOST_CLASSES = 30;
  private static final int MOST_BATCHES = 8;
  private static final int MOST_BARS = 120;
  private static final int PLACES = 6;
  private static final double LINE_PX = 13;
  private static final double LEAST_PX = 45;
  private static final double FARTHEST = 3;

  private final BatchDistribution d;
  private final BatchDistribution.Statistics statistics;
  private final List<Entry> counting;
  private final Optional<String> stamp;
  private final String name;

  DistributionCharts(BatchDistribution d, boolean simulated) {
    this.d = d;
    this.statistics = d.statistics().orElseThrow();
    this.counting = d.counting();
    this.stamp = simulated ? Optional.of(ReportContext.SIMULATED) : Optional.empty();
    this.name = MeasurandWords.printed(d.what());
  }

  /** The distribution of the values; empty for a single value. */
  Optional<Chart> spread() {
    if (counting.size() < FEWEST) {
      return Optional.empty();
    }
    return Optional.of(counting.size() < MANY ? dots() : distribution());
  }

  /** The values in the order of time; empty if there are too few for a chart. */
  Optional<Chart> inTime() {
    return counting.size() < ControlChartSignalWords.FEWEST
        ? Optional.empty()
        : statistics.chart().map(this::individuals);
  }

  /** One line per unit, the first at the top. */
  private Chart dots() {
    int n = counting.size();
    List<String> units = new ArrayList<>();
    counting.forEach(e -> units.add(0, e.run().unit()));
    List<Mark> marks = new ArrayList<>(points((i, half) -> place(i, n, half)));
    limits(d.limit(), "limit").forEach(marks::add);
    limits(d.testLimit(), "guarded").forEach(marks::add);
    Chart.Words words =
        new Chart.Words(
            name,
            "The value of each unit with its expanded uncertainty, and the limits of the datasheet"
                + " and those that a guard band leaves.",
            stamp);
    return new Chart(
        words,
        axis(d.what().quantity().inWords()),
        Axis.named("", units),
        marks,
        new Chart.Size(Chart.Size.HALF.widthPx(), Math.max(LEAST_PX, n * LINE_PX), true));
  }

  private PointWithErrorBar place(int i, int n, double half) {
    return new PointWithErrorBar(counting.get(i).value().orElseThrow(), n - 1.0 - i, half, 0);
  }

  /** The position of a value, from its place and half its bar. */
  private interface Placed {
    PointWithErrorBar at(int place, double half);
  }

  /** Units that passed, units that failed, and outliers. */
  private List<Mark> points(Placed placed) {
    List<PointWithErrorBar> usual = new ArrayList<>();
    List<PointWithErrorBar> failed = new ArrayList<>();
    List<PointWithErrorBar> apart = new ArrayList<>();
    boolean bars = counting.size() <= MOST_BARS;
    for (int i = 0; i < counting.size(); i++) {
      Entry e = counting.get(i);
      PointWithErrorBar spot = placed.at(i, bars ? half(e) : 0);
      boolean missed = e.result().judgement().filter(j -> j.failed()).isPresent();
      boolean outlier = statistics.outliers().contains(e.run().run().id());
      (missed ? failed : outlier ? apart : usual).add(spot);
    }
    String also = bars ? " \u00b1 U" : "";
    List<Mark> marks = new ArrayList<>();
    add(marks, "value" + also, SeriesStyle.FIRST, usual);
    add(marks, "outlier" + also, SeriesStyle.SECOND, apart);
    add(marks, "fail" + also, SeriesStyle.THIRD, failed);
    return marks;
  }

  private static void add(
      List<Mark> marks, String name, SeriesStyle seriesStyle, List<PointWithErrorBar> spots) {
    if (!spots.isEmpty()) {
      marks.add(Mark.Points.of(name, seriesStyle, spots));
    }
  }

  private static double half(Entry e) {
    return e.result().outcome() instanceof ComputationOutcome.Value v
        ? v.uncertainty().map(ComputationOutcome.Uncertainty::expanded).orElse(0.0)
        : 0;
  }

  private Axis axis(String words) {
    String unit = d.what().quantity().unit();
    return switch (unit) {
      case "A" -> Axis.of(words, Dimension.CURRENT);
      case "V" -> Axis.of(words, Dimension.VOLTAGE);
      case "ohm" -> Axis.of(words, Dimension.RESISTANCE);
      case "S" -> Axis.of(words, Dimension.CONDUCTANCE);
      default -> Axis.counted(words, unit);
    };
  }

  private Chart distribution() {
    List<Mark> marks = new ArrayList<>();
    marks.add(new Mark.Curve("units per class", SeriesStyle.FIRST, histogram()));
    limits(d.limit(), "limit").forEach(marks::add);
    limits(d.testLimit(), "guarded").forEach(marks::add);
    marks.add(new Mark.Upright("mean", statistics.spread().mean(), 0));
    Chart.Words words =
        new Chart.Words(
            name,
            "How many units have which value, with the limits of the datasheet and those that a"
                + " guard band leaves.",
            stamp);
    return new Chart(
        words,
        axis(d.what().quantity().inWords()),
        Axis.counted("Units of " + counting.size(), "").with(0),
        marks,
        Chart.Size.HALF);
  }

  private static List<Mark> limits(Optional<Limit> limit, String words) {
    List<Mark> marks = new ArrayList<>();
    limit
        .filter(l -> l.lower().isPresent())
        .ifPresent(l -> marks.add(new Mark.Upright(words, l.lower().getAsDouble(), 0)));
    limit
        .filter(l -> l.upper().isPresent())
        .ifPresent(l -> marks.add(new Mark.Upright(words, l.upper().getAsDouble(), 0)));
    return marks;
  }

  /**
   * The steps of a histogram. The class width follows the aim of Freedman and Diaconis, with the
   * standard deviation: width 3.49 s n^(-1/3) (Scott, Biometrika 66 (1979) 605).
   */
  private List<PlotLinePoint> histogram() {
    double least = statistics.spread().least();
    double span = statistics.spread().largest() - least;
    double wide = 3.49 * statistics.spread().sd() / Math.cbrt(counting.size());
    int classes = span > 0 ? (int) Math.min(MOST_CLASSES, Math.max(1, Math.ceil(span / wide))) : 1;
    double width = span > 0 ? span / classes : Math.max(Math.abs(least) * 1e-6, 1e-12);
    int[] counts = new int[classes];
    for (Entry e : counting) {
      int at = (int) ((e.value().orElseThrow() - least) / width);
      counts[Math.min(classes - 1, Math.max(0, at))]++;
    }
    List<PlotLinePoint> corners = new ArrayList<>();
    corners.add(new PlotLinePoint(least, 0));
    for (int i = 0; i < classes; i++) {
      corners.add(new PlotLinePoint(least + i * width, counts[i]));
      corners.add(new PlotLinePoint(least + (i + 1) * width, counts[i]));
    }
    corners.add(new PlotLinePoint(least + classes * width, 0));
    return corners;
  }

  private Chart individuals(IndividualsChart chart) {
    List<Mark> marks =
        new ArrayList<>(
            points(
                (i, half) -> PointWithErrorBar.of(i, counting.get(i).value().orElseThrow(), half)));
    marks.addAll(batches());
    marks.add(new Mark.Level("upper chart limit", chart.limits().upper()));
    marks.add(new Mark.Level("mean", chart.centre()));
    marks.add(new Mark.Level("lower chart limit", chart.limits().lower()));
    marks.addAll(nearLimits(chart));
    Chart.Words words =
        new Chart.Words(
            name + ": in the order of time",
            "Each value in the order in which it was measured, with the limits of the chart; those"
                + " of the datasheet where they are not far away.",
            stamp);
    return new Chart(
        words,
        Axis.inOrder("", places()),
        axis(d.what().quantity().inWords()),
        marks,
        Chart.Size.PAGE);
  }

  /** Labels for a few of the runs: serial number and day. */
  private Map<Double, String> places() {
    Map<Double, String> places = new TreeMap<>();
    int last = counting.size() - 1;
    int step = Math.max(1, (last + PLACES - 1) / PLACES);
    for (int i = 0; i + step / 2 <= last; i += step) {
      places.put((double) i, placeName(counting.get(i).run()));
    }
    places.put((double) last, placeName(counting.get(last).run()));
    return places;
  }

  private static String placeName(ComparedRun run) {
    return run.unit()
        + run.run().start().measuredAt().map(at -> " " + at.toString().substring(0, 10)).orElse("");
  }

  /** The limits of the datasheet; left out where they would flatten the values into a line. */
  private List<Mark> nearLimits(IndividualsChart chart) {
    double wide = chart.limits().upper() - chart.limits().lower();
    List<Mark> levels = new ArrayList<>();
    d.limit()
        .ifPresent(
            l -> {
              l.upper().ifPresent(v -> near("upper limit", v, chart, wide).ifPresent(levels::add));
              l.lower().ifPresent(v -> near("lower limit", v, chart, wide).ifPresent(levels::add));
            });
    return levels;
  }

  private static Optional<Mark> near(String name, double at, IndividualsChart chart, double wide) {
    return Math.abs(at - chart.centre()) <= FARTHEST * wide
        ? Optional.of(new Mark.Level(name, at))
        : Optional.empty();
  }

  /** The start of each batch, if there are several in succession. */
  private List<Mark> batches() {
    List<Mark> begins = new ArrayList<>();
    Optional<String> before = Optional.empty();
    for (int i = 0; i < counting.size(); i++) {
      Optional<String> batch = counting.get(i).run().run().start().people().batch();
      if (batch.isPresent() && !batch.equals(before)) {
        begins.add(new Mark.Upright(batch.get() + " begins", i - 0.5, 0));
      }
      before = batch;
    }
    return begins.size() > 1 && begins.size() <= MOST_BATCHES ? begins : List.of();
  }
}
