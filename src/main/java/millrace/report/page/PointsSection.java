// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import millrace.analysis.load.LoadPoint;
import millrace.assessment.range.LoadSweepStudy;
import millrace.assessment.tally.PointName;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.SweepDirection;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;
import millrace.report.markup.Markup;
import millrace.report.page.ReportAnchors.Group;
import millrace.report.plot.PrintedUnitSymbols;

/** All points: requested settings, and the voltage and current from their readings. */
final class PointsSection {
  private static final int CURRENT_DIGITS = 9;
  private static final int VOLTAGE_DIGITS = 6;
  private static final int LOAD_DIGITS = 4;

  private final ReportContext sheet;
  private final ReportAnchors places;
  private final Map<String, LoadPoint> reduced = new HashMap<>();
  private final Set<String> plateau = new HashSet<>();
  private final Map<Long, Long> readings;

  private PointsSection(ReportContext sheet) {
    this.sheet = sheet;
    this.places = sheet.anchors();
    this.readings = sheet.run().readingCounts(RunPointSummary.LISTED);
    for (LoadSweepStudy study : sheet.assessment().loads()) {
      study.curve().points().forEach(p -> reduced.put(p.key(), p));
      study.curve().plateau().forEach(p -> plateau.add(p.key()));
    }
  }

  static void write(ReportContext sheet) {
    RunPointSummary points = sheet.points();
    if (points.count() > 0) {
      new PointsSection(sheet).write(points);
    }
  }

  private void write(RunPointSummary points) {
    String run = String.valueOf(sheet.assessment().run().id());
    sheet
        .folded("Points", "points", NumberText.counted(points.count(), "point"))
        .paragraph(
            "Each point by its number: load and the direction in which it was come to (\u2191"
                + " rising, \u2193 falling), voltage at the terminals and current with all"
                + " corrections, both in the units that the head of each table names, n readings of"
                + " all instruments. p: counts for the plateau line, k:"
                + " for the knee alone. \u2018millrace show "
                + run
                + " --point 7\u2019 shows the readings of point 7 with their raw replies.");
    sheet.out().line().open("div", "class", "columns");
    Map<Group, List<Point>> groups = new LinkedHashMap<>();
    points.first().forEach(p -> groups.computeIfAbsent(Group.of(p), g -> new ArrayList<>()).add(p));
    groups.forEach(this::group);
    sheet.out().close();
    long more = points.count() - points.first().size();
    if (more > 0) {
      sheet.paragraph("And " + more + " more: \u2018millrace export " + run + "\u2019.");
    }
    sheet.endFolded();
  }

  private void group(Group group, List<Point> points) {
    Markup out = sheet.out();
    QuantityText.Scale scale = scale(points);
    out.line().open("table", "id", sheet.named(places.points(group))).open("thead");
    out.open("tr").open("th", "colspan", "5", "scope", "rowgroup");
    if (group.range().isPresent()) {
      sheet.link(words(group), places.results(group.range()));
    } else {
      out.text(words(group));
    }
    if (points.stream().anyMatch(p -> reduced.containsKey(PointName.of(p)))) {
      out.text(": V, " + PrintedUnitSymbols.of(scale.symbol()));
    }
    out.close().close().close().open("tbody");
    points.forEach(p -> row(p, scale));
    out.close().close();
  }

  /** One unit for all currents of a table, set by the largest. */
  private QuantityText.Scale scale(List<Point> points) {
    double largest =
        points.stream()
            .flatMap(p -> Optional.ofNullable(reduced.get(PointName.of(p))).stream())
            .mapToDouble(k -> Math.abs(k.currentA().value()))
            .max()
            .orElse(1);
    return QuantityText.scaleFor(1.1 * largest, Dimension.CURRENT);
  }

  private static String words(Group group) {
    List<String> words = new ArrayList<>();
    words.add(group.range().map(r -> "Range " + r).orElse("No range"));
    if (group.degC().isPresent()) {
      words.add(NumberText.fixed(group.degC().getAsDouble(), 1) + " \u00b0C");
    }
    if (group.visit() > 0) {
      words.add("visit " + (group.visit() + 1));
    }
    return String.join(", ", words);
  }

  private void row(Point p, QuantityText.Scale scale) {
    Markup out = sheet.out();
    String name = PointName.of(p);
    Optional<LoadPoint> known = Optional.ofNullable(reduced.get(name));
    out.line().open("tr").element("th", p.number().text(), "scope", "row");
    out.element("td", asked(p));
    out.element("td", known.map(PointsSection::volts).orElse(""), "class", "figures");
    out.element("td", known.map(k -> amperes(k, scale)).orElse(""), "class", "figures");
    String mark =
        plateau.contains(name) ? "p" : known.filter(LoadPoint::kneeOnly).isPresent() ? "k" : "";
    String state = p.state() == PointState.COMPLETE ? "" : p.state().text();
    out.element("td", (readings.getOrDefault(p.id(), 0L) + " " + mark + " " + state).strip());
    out.close();
  }

  private static String volts(LoadPoint p) {
    return PrintedUnitSymbols.of(NumberText.significant(p.voltageV().value(), VOLTAGE_DIGITS));
  }

  private static String amperes(LoadPoint p, QuantityText.Scale scale) {
    return PrintedUnitSymbols.of(
        NumberText.significant(p.currentA().value() / scale.size(), CURRENT_DIGITS));
  }

  /** The load and its direction; without a load, the action at the point. */
  private static String asked(Point p) {
    PointConditions c = p.conditions();
    boolean swept = p.kind() == PointKind.MEASURE || p.kind() == PointKind.KNEE;
    List<String> words = new ArrayList<>();
    if (!swept) {
      words.add(p.kind().text());
    }
    if (c.loadOhm().isPresent() && swept) {
      double ohm = c.loadOhm().getAsDouble();
      String arrow =
          c.direction().map(d -> d == SweepDirection.UP ? " \u2191" : " \u2193").orElse("");
      words.add(
          (ohm == 0
                  ? "0 \u03a9"
                  : PrintedUnitSymbols.of(
                      QuantityText.print(ohm, Dimension.RESISTANCE, LOAD_DIGITS)))
              + arrow);
    }
    if (c.supplyV().isPresent()) {
      words.add(
          "supply "
              + QuantityText.print(c.supplyV().getAsDouble(), Dimension.VOLTAGE, LOAD_DIGITS));
    }
    if (c.setA().isPresent()) {
      words.add(
          "set "
              + PrintedUnitSymbols.of(
                  QuantityText.print(c.setA().getAsDouble(), Dimension.CURRENT, LOAD_DIGITS)));
    }
    return words.isEmpty() ? p.kind().text() : String.join(", ", words);
  }
}
