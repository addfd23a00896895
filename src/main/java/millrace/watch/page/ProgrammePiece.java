// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import millrace.evidence.Point;
import millrace.night.StoredRunPlan;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.plot.Axis;
import millrace.report.plot.Chart;
import millrace.report.plot.Mark;
import millrace.report.plot.PlotLinePoint;
import millrace.report.plot.SeriesStyle;
import millrace.sequence.Plan.PlannedPoint;

/** The temperatures of a night: past, present, and the times of the next ones. */
final class ProgrammePiece {
  /** The margin of the drawing beyond the temperatures, K. */
  private static final double ROOM_K = 2;

  private final RunSnapshot look;
  private final StoredRunPlan plan;
  private final List<Stay> stays;

  private ProgrammePiece(RunSnapshot look, StoredRunPlan plan) {
    this.look = look;
    this.plan = plan;
    this.stays = stays();
  }

  /**
   * A stay at a temperature.
   *
   * @param visit its number, from 0
   * @param degC its set temperature, degC
   * @param points the number of its planned points
   * @param done the number of points done
   * @param skipped the number of points skipped
   * @param begun whether its soak has begun
   * @param began elapsed time of its first point, or its expected beginning
   * @param ended elapsed time of its last point, or its expected end
   */
  private record Stay(
      int visit,
      double degC,
      int points,
      int done,
      int skipped,
      boolean begun,
      Duration began,
      Duration ended) {
    boolean over() {
      return done + skipped == points;
    }

    String state() {
      if (over() && skipped > 0) {
        return done > 0 ? "done, the rest skipped" : "skipped";
      }
      return over() ? "done" : done > 0 ? "under way" : begun ? "soaking" : "to come";
    }
  }

  static void write(Markup out, RunSnapshot look) {
    if (look.plan().isEmpty()) {
      return;
    }
    ProgrammePiece piece = new ProgrammePiece(look, look.plan().get());
    if (piece.stays.isEmpty()) {
      return;
    }
    out.element("h2", "Temperatures");
    out.line().open("figure", "class", "page");
    piece.chart().write(out, "programme-plot");
    out.close();
    piece.table(out);
  }

  private List<Stay> stays() {
    Map<Integer, List<PlannedPoint>> visits = new java.util.TreeMap<>();
    plan.plan()
        .points()
        .forEach(
            p ->
                p.temperature()
                    .ifPresent(
                        t -> visits.computeIfAbsent(t.visit(), v -> new ArrayList<>()).add(p)));
    Map<Integer, Duration[]> spans = spans();
    List<Stay> all = new ArrayList<>();
    visits.forEach((visit, points) -> all.add(stay(visit, points, spans.get(visit))));
    all.sort(java.util.Comparator.comparing(Stay::began));
    return all;
  }

  private Stay stay(int visit, List<PlannedPoint> points, Duration[] span) {
    int done = (int) points.stream().filter(p -> look.done().contains(p.key())).count();
    PlannedPoint first = points.get(0);
    PlannedPoint last = points.get(points.size() - 1);
    int skipped =
        (int)
            points.stream()
                .filter(p -> !look.done().contains(p.key()))
                .filter(p -> plan.changed().why(p).isPresent())
                .count();
    boolean over = done + skipped == points.size() && span != null;
    Duration began = span == null ? toCome(first) : span[0];
    Duration ended = over ? span[1] : until(last);
    return new Stay(
        visit,
        first.conditions().temperatureDegC().orElseThrow(),
        points.size(),
        done,
        skipped,
        span != null,
        began,
        ended.compareTo(began) < 0 ? began : ended);
  }

  /** The expected beginning of a point, in the run's own time. */
  private Duration toCome(PlannedPoint point) {
    Duration left = look.left().orElse(Duration.ZERO);
    return look.clock().elapsed().plus(left).minus(plan.schedule().leftFrom(point));
  }

  /** The expected beginning of the point after a point. */
  private Duration until(PlannedPoint point) {
    int place = plan.plan().placeOf(point);
    return place + 1 < plan.plan().points().size()
        ? toCome(plan.plan().points().get(place + 1))
        : look.clock().elapsed().plus(look.left().orElse(Duration.ZERO));
  }

  /** The span from the first to the last point taken in each stay. */
  private Map<Integer, Duration[]> spans() {
    Map<String, Integer> visits = new HashMap<>();
    plan.plan()
        .points()
        .forEach(p -> p.temperature().ifPresent(t -> visits.put(p.key(), t.visit())));
    Map<Integer, Duration[]> spans = new HashMap<>();
    for (Point p : look.points()) {
      Integer visit = p.key().startsWith("soak ") ? soaked(p.key()) : visits.get(p.key());
      if (visit != null) {
        Duration[] span =
            spans.computeIfAbsent(visit, v -> new Duration[] {p.started(), p.ended()});
        span[0] = span[0].compareTo(p.started()) > 0 ? p.started() : span[0];
        span[1] = span[1].compareTo(p.ended()) < 0 ? p.ended() : span[1];
      }
    }
    return spans;
  }

  /** The key of a soak contains the number of its stay, from 1. */
  private static Integer soaked(String key) {
    String[] words = key.split(" ", 3);
    return NumberText.parse(words[1]).isPresent()
        ? (int) NumberText.parse(words[1]).getAsDouble() - 1
        : null;
  }

  private Chart chart() {
    double now = ClockAxis.hours(look.clock().elapsed());
    List<PlotLinePoint> past = new ArrayList<>();
    List<PlotLinePoint> coming = new ArrayList<>();
    for (Stay s : stays) {
      double from = ClockAxis.hours(s.began());
      double to = ClockAxis.hours(s.ended());
      if (from < now) {
        past.add(new PlotLinePoint(from, s.degC()));
        past.add(new PlotLinePoint(Math.min(to, now), s.degC()));
      }
      if (to > now && goesOn()) {
        coming.add(new PlotLinePoint(Math.max(from, now), s.degC()));
        coming.add(new PlotLinePoint(to, s.degC()));
      }
    }
    List<Mark> marks = new ArrayList<>();
    if (past.size() > 1) {
      marks.add(new Mark.Curve("chamber set to, done", SeriesStyle.FIRST, past));
    }
    if (coming.size() > 1) {
      marks.add(new Mark.Curve("to come", SeriesStyle.SECOND, coming));
    }
    if (goesOn()) {
      marks.add(new Mark.Upright("now", now, 0));
    }
    double begin =
        Stream.concat(past.stream(), coming.stream()).mapToDouble(PlotLinePoint::x).min().orElse(0);
    double end = Math.max(now, ClockAxis.hours(stays.get(stays.size() - 1).ended()));
    double lowest = stays.stream().mapToDouble(Stay::degC).min().orElseThrow();
    double highest = stays.stream().mapToDouble(Stay::degC).max().orElseThrow();
    return new Chart(
        new Chart.Words("Temperature programme", description(), look.stamp()),
        ClockAxis.of(look, begin, end),
        Axis.of("Chamber", Dimension.TEMPERATURE).with(lowest - ROOM_K).with(highest + ROOM_K),
        marks,
        ClockAxis.SIZE);
  }

  private boolean goesOn() {
    return look.writer().goesOn();
  }

  private String description() {
    return stays.stream()
        .map(s -> degrees(s.degC()) + " " + s.state())
        .collect(java.util.stream.Collectors.joining(", ", "The chamber's temperatures: ", "."));
  }

  private static String degrees(double degC) {
    return NumberText.fixed(degC, 1) + "\u00a0\u00b0C";
  }

  private void table(Markup out) {
    HtmlTable table =
        HtmlTable.stacked(
            out,
            "",
            HtmlTable.Column.figures("Stay"),
            HtmlTable.Column.figures("Chamber"),
            HtmlTable.Column.words("State"),
            HtmlTable.Column.figures("Points"),
            HtmlTable.Column.words("Began"),
            HtmlTable.Column.words("Ended, or will"));
    for (Stay s : stays) {
      boolean over = s.over();
      Optional<String> end = over || goesOn() ? Optional.of(clock(s.ended())) : Optional.empty();
      table
          .begin()
          .figures(Integer.toString(s.visit() + 1))
          .figures(degrees(s.degC()))
          .cell(s.state())
          .figures(s.done() + " of " + s.points())
          .cell(s.begun() ? clock(s.began()) : goesOn() ? "about " + clock(s.began()) : "")
          .cell(end.map(e -> over ? e : "about " + e).orElse("not reached"))
          .end();
    }
    table.close();
  }

  private String clock(Duration elapsed) {
    return elapsed.compareTo(look.clock().elapsed()) <= 0
        ? look.local(look.at(elapsed))
        : look.local(look.clock().now().plus(elapsed.minus(look.clock().elapsed())));
  }
}
