// SPDX-License-Identifier: Apache-2.0
package millrace.report.table;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.TreeMap;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;
import millrace.quantity.TimeSpanSeconds;
import millrace.report.words.PointWords;

/** Logbook data of one point: its outcome, its settings, every reply. Stateless. */
public final class PointTable {
  private static final int WIDEST = 32;
  private static final int DIGITS = 3;
  private static final int DIGITS_IN_A_LIST = 4;
  private static final int DIGITS_OF_A_DIFFERENCE = 9;

  private PointTable() {}

  /**
   * The facts of a point.
   *
   * @param point the point
   * @return lines without line feeds
   */
  public static List<String> head(Point point) {
    List<String> lines = new ArrayList<>();
    String why = point.reason().isEmpty() ? "" : ": " + point.reason();
    boolean whole = point.state() == PointState.COMPLETE;
    lines.add(PointWords.of(point) + ", " + point.state().text() + (whole ? "" : why));
    lines.add("  key       " + point.key());
    lines.add(
        "  taken     %s into the run, for %s".formatted(span(point.started()), length(point)));
    new TreeMap<>(point.settings().words())
        .forEach((name, value) -> lines.add("  setting   " + name + " = " + value));
    return lines;
  }

  private static String length(Point point) {
    return span(point.ended().minus(point.started()));
  }

  private static String span(Duration span) {
    return TimeSpanSeconds.print(span, DIGITS);
  }

  /**
   * Many points, one line each.
   *
   * @param points the points, in order
   * @return lines, each with its line feed
   */
  public static String list(List<Point> points) {
    TextColumns table =
        new TextColumns(WIDEST, "point", "what", "range", "temp.", "load", "after", "state");
    for (Point p : points) {
      PointConditions c = p.conditions();
      table.row(
          p.number().text(),
          p.kind().text() + c.direction().map(d -> " " + d.text()).orElse(""),
          c.slot().map(s -> "slot " + s + " ").orElse("") + c.range().orElse(""),
          print(c.temperatureDegC(), Dimension.TEMPERATURE),
          print(c.loadOhm(), Dimension.RESISTANCE),
          span(p.started()),
          p.state().text());
    }
    return table.text();
  }

  private static String print(OptionalDouble value, Dimension dimension) {
    return value.isPresent()
        ? QuantityText.print(value.getAsDouble(), dimension, DIGITS_IN_A_LIST)
        : "";
  }

  /**
   * The readings of a point, with the unchanged reply.
   *
   * @param readings the readings, in order
   * @return lines, each with its line feed
   */
  public static String readings(List<Reading> readings) {
    TextColumns table =
        new TextColumns(
            WIDEST, "after", "instrument", "signal", "value", "less zero", "state", "reply");
    for (Reading r : readings) {
      table.row(
          NumberText.fixed(r.elapsed().toMillis() / 1e3, 1) + " s",
          r.instrument(),
          r.signal().text(),
          number(r.value(), r.signal()),
          r.zero().isPresent() ? rounded(r.corrected(), r.signal()) : "",
          r.state().text(),
          r.raw());
    }
    return table.text();
  }

  private static String number(OptionalDouble value, MeasuredSignal signal) {
    return value.isPresent() ? QuantityText.print(value.getAsDouble(), dimension(signal)) : "";
  }

  private static String rounded(OptionalDouble value, MeasuredSignal signal) {
    return value.isPresent()
        ? QuantityText.print(value.getAsDouble(), dimension(signal), DIGITS_OF_A_DIFFERENCE)
        : "";
  }

  private static Dimension dimension(MeasuredSignal signal) {
    return switch (signal) {
      case CURRENT, REVERSED_CURRENT, SUPPLY_CURRENT -> Dimension.CURRENT;
      case VOLTAGE, REVERSED_VOLTAGE, SHUNT_VOLTAGE, SUPPLY_VOLTAGE -> Dimension.VOLTAGE;
      case UNIT_TEMPERATURE, CHAMBER_TEMPERATURE, LAB_TEMPERATURE, SHUNT_TEMPERATURE ->
          Dimension.TEMPERATURE;
      case HUMIDITY -> Dimension.HUMIDITY;
    };
  }
}
