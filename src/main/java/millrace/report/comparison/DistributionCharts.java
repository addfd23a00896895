// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.analysis.batch.IndividualsChart;
import millrace.assessment.comparison.Distribution;
import millrace.assessment.comparison.Distribution.Entry;
import millrace.evidence.Limit;
import millrace.quantity.Dimension;
import millrace.quantity.Numbers;
import millrace.report.page.Sheet;
import millrace.report.plot.Axis;
import millrace.report.plot.Chart;
import millrace.report.plot.Corner;
import millrace.report.plot.Look;
import millrace.report.plot.Mark;
import millrace.report.plot.Spot;

/** A quantity over a batch in pictures: how its values lie, and how they came in time. */
final class DistributionCharts {
  private static final int FEWEST = 3;
  private static final int MOST_CLASSES = 30;
  private static final int MOST_BATCHES = 8;

  private final Distribution d;
  private final Distribution.Statistics statistics;
  private final List<Entry> counting;
  private final Optional<String> stamp;
  private final String name;

  DistributionCharts(Distribution d, boolean simulated) {
    this.d = d;
    this.statistics = d.statistics().orElseThrow();
    this.counting = d.counting();
    this.stamp = simulated ? Optional.of(Sheet.SIMULATED) : Optional.empty();
    this.name = MeasurandWords.printed(d.what());
  }

  List<Chart> all() {
    List<Chart> charts = new ArrayList<>();
    if (counting.size() >= FEWEST) {
      charts.add(distribution());
    }
    if (statistics.chart().isPresent()) {
      charts.add(individuals(statistics.chart().get()));
      charts.add(ranges(statistics.chart().get()));
    }
    return charts;
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
    marks.add(new Mark.Curve("units per class", Look.FIRST, histogram()));
    limits(d.limit(), "limit").forEach(marks::add);
    limits(d.testLimit(), "guarded").forEach(marks::add);
    marks.add(new Mark.Upright("mean", statistics.spread().mean(), 0));
    Chart.Words words =
        new Chart.Words(
            name + ": " + counting.size() + " values",
            "How many units have which value, with the limits of the datasheet and those that a"
                + " guard band leaves.",
            stamp);
    return new Chart(
        words,
        axis(d.what().quantity().inWords()),
        Axis.counted("Units", "").with(0),
        marks,
        Chart.Size.PAGE);
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
   * Steps of a histogram, classes by Freedman and Diaconis' aim with the standard deviation: width
   * 3.49 s n^(-1/3) (Scott, Biometrika 66 (1979) 605).
   */
  private List<Corner> histogram() {
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
    List<Corner> corners = new ArrayList<>();
    corners.add(new Corner(least, 0));
    for (int i = 0; i < classes; i++) {
      corners.add(new Corner(least + i * width, counts[i]));
      corners.add(new Corner(least + (i + 1) * width, counts[i]));
    }
    corners.add(new Corner(least + classes * width, 0));
    return corners;
  }

  private Chart individuals(IndividualsChart chart) {
    List<Spot> spots = new ArrayList<>();
    List<Spot> apart = new ArrayList<>();
    for (int i = 0; i < counting.size(); i++) {
      Entry e = counting.get(i);
      boolean outlier = statistics.outliers().contains(e.run().run().id());
      (outlier ? apart : spots).add(Spot.of(i + 1, e.value().orElseThrow(), 0));
    }
    List<Mark> marks = new ArrayList<>();
    marks.add(Mark.Points.of("value", Look.FIRST, spots));
    if (!apart.isEmpty()) {
      marks.add(Mark.Points.of("outlier", Look.SECOND, apart));
    }
    marks.addAll(batches());
    marks.add(new Mark.Level("upper chart limit", chart.limits().upper()));
    marks.add(new Mark.Level("mean", chart.centre()));
    marks.add(new Mark.Level("lower chart limit", chart.limits().lower()));
    Chart.Words words =
        new Chart.Words(
            name + ": in the order of time",
            "Each value in the order in which it was measured, with the chart's limits.",
            stamp);
    return new Chart(
        words,
        Axis.counted("Run, in the order of time", ""),
        axis(d.what().quantity().inWords()),
        marks,
        Chart.Size.PAGE);
  }

  /** Where each batch begins, if there are several and they came one after the other. */
  private List<Mark> batches() {
    List<Mark> begins = new ArrayList<>();
    Optional<String> before = Optional.empty();
    for (int i = 0; i < counting.size(); i++) {
      Optional<String> batch = counting.get(i).run().run().start().people().batch();
      if (batch.isPresent() && !batch.equals(before)) {
        begins.add(new Mark.Upright(batch.get() + " begins", i + 0.5, 0));
      }
      before = batch;
    }
    return begins.size() > 1 && begins.size() <= MOST_BATCHES ? begins : List.of();
  }

  private Chart ranges(IndividualsChart chart) {
    List<Spot> spots = new ArrayList<>();
    for (int i = 1; i < counting.size(); i++) {
      double range =
          Math.abs(
              counting.get(i).value().orElseThrow() - counting.get(i - 1).value().orElseThrow());
      spots.add(Spot.of(i + 1, range, 0));
    }
    List<Mark> marks = new ArrayList<>();
    marks.add(Mark.Points.of("moving range", Look.FIRST, spots));
    marks.add(new Mark.Level("upper limit", chart.rangeLimit()));
    Chart.Words words =
        new Chart.Words(
            name + ": moving ranges",
            "By how much each value differs from the one before, with the chart's limit; %s are beyond."
                .formatted(Numbers.print(chart.rangesOutside().size())),
            stamp);
    return new Chart(
        words,
        Axis.counted("Run, in the order of time", ""),
        axis("Range").with(0),
        marks,
        Chart.Size.STRIP);
  }
}
