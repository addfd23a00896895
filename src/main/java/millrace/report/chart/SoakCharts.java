// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.analysis.settling.SoakJudge.Sample;
import millrace.assessment.series.SoakStudy;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.report.plot.Axis;
import millrace.report.plot.Chart;
import millrace.report.plot.Mark;
import millrace.report.plot.PlotLinePoint;
import millrace.report.plot.SeriesStyle;

/** Charts of a soak: current and temperature over time, with the moment of the decision marked. */
public final class SoakCharts {
  private static final double PPM = 1e6;

  /** Smallest change of temperature that gets its own plot, K. */
  private static final double LEAST_K = 0.5;

  private SoakCharts() {}

  /** The current relative to the mean of the last tenth of its readings, in ppm of nominal. */
  public static Chart current(SoakStudy soak, Optional<String> stamp) {
    List<Mark> marks = new ArrayList<>();
    List<Sample> read = soak.samples().stream().filter(s -> s.relative().isPresent()).toList();
    double last = ended(read);
    marks.add(
        new Mark.Curve(
            "current of the watched range, less where it ended",
            SeriesStyle.FIRST,
            read.stream()
                .map(s -> new PlotLinePoint(s.timeS(), (s.relative().getAsDouble() - last) * PPM))
                .toList()));
    marks.addAll(decision(soak));
    marks.add(new Mark.Level("", 0));
    return new Chart(
        words(soak, "current", stamp),
        time(),
        Axis.counted("Change", "ppm"),
        marks,
        Chart.Size.LOW);
  }

  /** The mean of the last tenth of the readings. */
  private static double ended(List<Sample> read) {
    return read.subList(read.size() - (read.size() + 9) / 10, read.size()).stream()
        .mapToDouble(s -> s.relative().orElse(0))
        .average()
        .orElse(0);
  }

  /** The temperature of the unit. */
  public static Chart temperature(SoakStudy soak, Optional<String> stamp) {
    List<Mark> marks = new ArrayList<>();
    marks.add(
        new Mark.Curve(
            "temperature of the unit",
            SeriesStyle.FIRST,
            soak.samples().stream()
                .map(s -> new PlotLinePoint(s.timeS(), s.temperatureDegC()))
                .toList()));
    marks.add(new Mark.Curve("chamber set to", SeriesStyle.SECOND, setpoint(soak)));
    marks.addAll(decision(soak));
    return new Chart(
        words(soak, "temperature", stamp),
        time(),
        Axis.of("Unit", Dimension.TEMPERATURE)
            .with(soak.setpointDegC() - LEAST_K)
            .with(soak.setpointDegC() + LEAST_K),
        marks,
        Chart.Size.LOW);
  }

  private static List<PlotLinePoint> setpoint(SoakStudy soak) {
    List<Sample> samples = soak.samples();
    if (samples.isEmpty()) {
      return List.of();
    }
    double set = soak.setpointDegC();
    return List.of(
        new PlotLinePoint(samples.get(0).timeS(), set),
        new PlotLinePoint(samples.get(samples.size() - 1).timeS(), set));
  }

  /** The setpoint of the chamber, in degrees Celsius with one decimal. */
  public static String degrees(SoakStudy soak) {
    return NumberText.fixed(soak.setpointDegC(), 1) + "\u00a0\u00b0C";
  }

  private static Axis time() {
    return Axis.of("Time", Dimension.TIME).with(0);
  }

  private static Chart.Words words(SoakStudy soak, String what, Optional<String> stamp) {
    return new Chart.Words(
        "Stay " + (soak.stay() + 1) + ", " + degrees(soak),
        "The " + what + " while the unit came to " + degrees(soak) + "; " + soak.decision(),
        stamp);
  }

  private static List<Mark> decision(SoakStudy soak) {
    List<Sample> samples = soak.samples();
    return samples.isEmpty()
        ? List.of()
        : List.of(new Mark.Upright("soak over", samples.get(samples.size() - 1).timeS(), 0));
  }

  /** The end of a soak in words: the decision at the time, and the remaining drift as known now. */
  public static String ended(SoakStudy soak) {
    String left =
        soak.leftRatio().isPresent()
            ? ". Looking back on all its readings, with 2 u: at most "
                + NumberText.significant(soak.leftRatio().getAsDouble() * PPM, 2)
                + " ppm were left"
            : "";
    return "Range " + soak.range() + ". Decided while it ran: " + soak.decision() + left;
  }
}
