// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.analysis.settling.SoakJudge.Sample;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;
import millrace.quantity.TimeSpanSeconds;
import millrace.report.markup.Markup;
import millrace.report.plot.Axis;
import millrace.report.plot.Chart;
import millrace.report.plot.Mark;
import millrace.report.plot.PlotLinePoint;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.plot.SeriesStyle;
import millrace.run.soak.SoakProgress;

/** The soak in progress: its state, its expected end, and its time limit. */
final class SoakPiece {
  private static final double PPM = 1e6;

  private final RunSnapshot look;
  private final SoakProgress soak;

  private SoakPiece(RunSnapshot look, SoakProgress soak) {
    this.look = look;
    this.soak = soak;
  }

  static void write(Markup out, RunSnapshot look) {
    look.soak().ifPresent(soak -> new SoakPiece(look, soak).write(out));
  }

  /** The soak in progress in one line; empty without one. */
  static Optional<String> inOneLine(RunSnapshot look) {
    return look.soak().map(soak -> new SoakPiece(look, soak).heading());
  }

  private String heading() {
    return "Soak at " + degrees(soak.setpointDegC()) + ": " + answer();
  }

  private void write(Markup out) {
    out.element("h2", heading());
    out.element("p", PrintedUnitSymbols.of(words()));
    if (read().size() > 1) {
      out.line().open("figure", "class", "page");
      current().write(out, "soak-current-plot");
      out.close();
    }
    if (soak.watched().samples().size() > 1) {
      out.line().open("figure", "class", "page");
      temperature().write(out, "soak-temperature-plot");
      out.close();
    }
  }

  private static String degrees(double degC) {
    return NumberText.fixed(degC, 1) + "\u00a0\u00b0C";
  }

  private String answer() {
    return soak.left()
        .map(left -> "enough at about " + look.local(look.clock().now().plus(left)))
        .orElse("its end cannot be told yet");
  }

  private String words() {
    String unit =
        soak.unitDegC().isPresent()
            ? "The unit is at " + degrees(soak.unitDegC().getAsDouble())
            : "The unit's temperature was not read yet";
    String left =
        soak.leftRatio().isPresent()
            ? QuantityText.print(soak.leftRatio().getAsDouble(), Dimension.RATIO, 2)
                + " of the current may still be to come"
            : "what is still to come cannot be told yet";
    return "%s; %s, at most %s is enough%s. It is cut off at %s, in %s."
        .formatted(
            unit,
            left,
            QuantityText.print(soak.askedRatio(), Dimension.RATIO, 2),
            soak.watched().range().isEmpty() ? "" : " (range " + soak.watched().range() + ")",
            look.local(look.clock().now().plus(soak.bound())),
            TimeSpanSeconds.inWords(soak.bound()));
  }

  private List<Sample> read() {
    return soak.watched().samples().stream().filter(s -> s.relative().isPresent()).toList();
  }

  /** Hours of the run at a time of the soak; its last check is now. */
  private double hour(double timeS) {
    List<Sample> all = soak.watched().samples();
    double last = all.get(all.size() - 1).timeS();
    return ClockAxis.hours(look.clock().elapsed()) + (timeS - last) / 3600;
  }

  private Chart current() {
    List<Sample> read = read();
    Sample last = read.get(read.size() - 1);
    double rest = last.relative().getAsDouble() - soak.watched().toComeRatio().orElse(0);
    boolean told = soak.watched().toComeRatio().isPresent();
    List<Mark> marks = new ArrayList<>();
    marks.add(
        new Mark.Curve(
            told ? "current, less where it is projected to settle" : "current, less the last",
            SeriesStyle.FIRST,
            read.stream()
                .map(
                    s ->
                        new PlotLinePoint(
                            hour(s.timeS()), (s.relative().getAsDouble() - rest) * PPM))
                .toList()));
    double asked = soak.askedRatio() * PPM;
    marks.add(new Mark.Level("enough", asked));
    marks.add(new Mark.Level("", 0));
    marks.add(new Mark.Level("enough", -asked));
    double end = uprights(marks, last.timeS());
    if (soak.left().isPresent() && told) {
      marks.add(
          new Mark.Curve(
              "projection",
              SeriesStyle.SECOND,
              List.of(
                  new PlotLinePoint(
                      hour(last.timeS()), (last.relative().getAsDouble() - rest) * PPM),
                  new PlotLinePoint(end, 0))));
    }
    return chart("Current while it soaks", Axis.counted("Change", "ppm"), marks, end);
  }

  private double uprights(List<Mark> marks, double lastS) {
    double now = hour(lastS);
    marks.add(new Mark.Upright("now", now, 0));
    Optional<Duration> left = soak.left();
    double end = left.map(l -> now + ClockAxis.hours(l)).orElse(now);
    left.ifPresent(l -> marks.add(new Mark.Upright("enough, projected", end, 0)));
    return end;
  }

  private Chart temperature() {
    List<Sample> all = soak.watched().samples();
    List<Mark> marks = new ArrayList<>();
    marks.add(
        new Mark.Curve(
            "temperature of the unit",
            SeriesStyle.FIRST,
            all.stream()
                .map(s -> new PlotLinePoint(hour(s.timeS()), s.temperatureDegC()))
                .toList()));
    marks.add(new Mark.Level("chamber set to", soak.setpointDegC()));
    double end = uprights(marks, all.get(all.size() - 1).timeS());
    return chart("Temperature of the unit", Axis.of("Unit", Dimension.TEMPERATURE), marks, end);
  }

  private Chart chart(String title, Axis up, List<Mark> marks, double end) {
    return new Chart(
        new Chart.Words(
            title,
            title + " at " + degrees(soak.setpointDegC()) + "; " + answer() + ".",
            look.stamp()),
        ClockAxis.of(look, hour(soak.watched().samples().get(0).timeS()), end),
        up,
        marks,
        ClockAxis.SIZE);
  }
}
