// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import millrace.analysis.response.RangeResponse;
import millrace.analysis.response.ResponsePoint;
import millrace.assessment.Assessment;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.Reading;
import millrace.logbook.RunReader;
import millrace.report.markup.Markup;
import millrace.report.plot.Axis;
import millrace.report.plot.Chart;
import millrace.report.plot.Mark;
import millrace.report.plot.PointWithErrorBar;
import millrace.report.plot.SeriesStyle;

/**
 * The current of each range over the night with its uncertainty, and that of the check standard.
 */
final class CurrentsPiece {
  private static final double PPM = 1e6;

  private CurrentsPiece() {}

  static void write(Markup out, RunSnapshot look, Assessment assessment) {
    List<RangeResponse> ranges = assessment.response().ranges();
    List<RangeResponse> timed =
        ranges.stream()
            .filter(r -> r.points().stream().anyMatch(p -> p.timeS().isPresent()))
            .toList();
    if (timed.isEmpty()) {
      return;
    }
    out.element("h2", "Current of each range over the night");
    out.element(
        "p",
        "What the point of the lowest terminal voltage in each stay differs from the nominal"
            + " current; bars are 2 u of single points.");
    out.open("div", "class", "grid two");
    for (int i = 0; i < timed.size(); i++) {
      out.open("figure", "class", "half");
      chart(look, timed.get(i)).write(out, "currents-plot" + i);
      out.close();
    }
    out.close();
  }

  private static Chart chart(RunSnapshot look, RangeResponse range) {
    List<PointWithErrorBar> spots = new ArrayList<>();
    for (ResponsePoint p : lowest(range)) {
      double y = (p.currentA().value() / range.nominalA() - 1) * PPM;
      double u = p.currentA().standardUncertainty() / Math.abs(range.nominalA()) * PPM;
      spots.add(PointWithErrorBar.of(p.timeS().orElseThrow() / 3600, y, 2 * u));
    }
    double to = spots.stream().mapToDouble(PointWithErrorBar::x).max().orElse(0);
    double from = spots.stream().mapToDouble(PointWithErrorBar::x).min().orElse(0);
    return new Chart(
        new Chart.Words(
            range.range(),
            "The current of range " + range.range() + " over the night, in ppm from nominal.",
            look.stamp()),
        ClockAxis.of(look, from, to),
        Axis.counted("From nominal", "ppm"),
        List.of(Mark.Points.of("points, bars 2 u", SeriesStyle.FIRST, spots)),
        Chart.Size.PAIR);
  }

  /** One point for each visit to a temperature. */
  private static List<ResponsePoint> lowest(RangeResponse range) {
    Map<Integer, ResponsePoint> visits = new TreeMap<>();
    range.points().stream()
        .filter(p -> p.timeS().isPresent())
        .forEach(p -> visits.merge(p.visit(), p, (a, b) -> volts(b) < volts(a) ? b : a));
    return List.copyOf(visits.values());
  }

  private static double volts(ResponsePoint p) {
    return Math.abs(p.voltageV().value());
  }

  /** The check standard: it shows changes of the meter. */
  static void standard(Markup out, RunSnapshot look, RunReader reader) {
    List<PointWithErrorBar> spots = new ArrayList<>();
    double first = 0;
    for (Point p : look.points()) {
      if (p.kind() == PointKind.CHECK_STANDARD) {
        List<Reading> readings = reader.readings(p.id());
        OptionalDouble mean = mean(readings);
        if (mean.isPresent() && mean.getAsDouble() != 0) {
          first = spots.isEmpty() ? mean.getAsDouble() : first;
          spots.add(
              PointWithErrorBar.of(
                  ClockAxis.hours(p.started()), (mean.getAsDouble() / first - 1) * PPM, 0));
        }
      }
    }
    if (spots.size() < 2) {
      return;
    }
    out.element("h2", "Check standard over the night").open("figure", "class", "page");
    new Chart(
            new Chart.Words(
                "Check standard, less its first reading",
                "What the instruments read of a standard that does not change, in ppm.",
                look.stamp()),
            ClockAxis.of(look, spots.get(0).x(), spots.get(spots.size() - 1).x()),
            Axis.counted("Change", "ppm").with(0),
            List.of(Mark.Points.of("as read", SeriesStyle.FIRST, spots), new Mark.Level("", 0)),
            ClockAxis.SIZE)
        .write(out, "standard-plot");
    out.close();
  }

  private static OptionalDouble mean(List<Reading> readings) {
    for (MeasuredSignal signal :
        List.of(MeasuredSignal.CURRENT, MeasuredSignal.SHUNT_VOLTAGE, MeasuredSignal.VOLTAGE)) {
      OptionalDouble mean = Reading.corrected(readings, signal).average();
      if (mean.isPresent()) {
        return mean;
      }
    }
    return OptionalDouble.empty();
  }
}
