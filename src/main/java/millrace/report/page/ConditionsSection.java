// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.Signal;
import millrace.logbook.ReadingCursor;
import millrace.quantity.Numbers;

/** What was asked for, and what room, chamber and supply really were while points were taken. */
final class ConditionsSection {
  private static final List<Signal> WATCHED =
      List.of(
          Signal.UNIT_TEMPERATURE,
          Signal.CHAMBER_TEMPERATURE,
          Signal.SHUNT_TEMPERATURE,
          Signal.LAB_TEMPERATURE,
          Signal.HUMIDITY,
          Signal.SUPPLY_VOLTAGE,
          Signal.SUPPLY_CURRENT);
  private static final int DECIMALS = 3;
  private static final int MOST_SETTINGS = 12;

  private final Sheet sheet;
  private final Map<Long, Point> points = new HashMap<>();

  private ConditionsSection(Sheet sheet) {
    this.sheet = sheet;
    sheet.run().points().forEach(p -> points.put(p.id(), p));
  }

  static void write(Sheet sheet) {
    ConditionsSection conditions = new ConditionsSection(sheet);
    sheet.folded("Conditions", "conditions", "what was measured beside the current");
    conditions.asked();
    conditions.found();
    conditions.settings();
    sheet.endFolded();
  }

  /** How many points of each kind, per setpoint. */
  private void asked() {
    Map<String, Integer> counts = new TreeMap<>();
    int skipped = 0;
    for (Point p : points.values()) {
      if (p.state() == PointState.SKIPPED) {
        skipped++;
      } else {
        counts.merge(p.kind().text(), 1, Integer::sum);
      }
    }
    String taken =
        counts.entrySet().stream()
            .map(e -> e.getKey() + ": " + e.getValue())
            .collect(Collectors.joining(", "));
    sheet.paragraph(
        "Points taken, by kind: "
            + (taken.isEmpty() ? "none" : taken)
            + (skipped > 0 ? "; skipped: " + skipped : "")
            + ". Readings in all: "
            + sheet.run().readingCount()
            + ".");
  }

  /** The least, the mean and the greatest of one signal at one setpoint. */
  private static final class Tally {
    private long n;
    private double sum;
    private double least = Double.POSITIVE_INFINITY;
    private double greatest = Double.NEGATIVE_INFINITY;

    void add(double value) {
      n++;
      sum += value;
      least = Math.min(least, value);
      greatest = Math.max(greatest, value);
    }
  }

  private void found() {
    Table table =
        Table.open(
            sheet.out(),
            "As read while points were taken, soaks left out",
            Table.Column.words("Chamber set to"),
            Table.Column.words("What"),
            Table.Column.words("Instrument"),
            Table.Column.figures("Least"),
            Table.Column.figures("Mean"),
            Table.Column.figures("Greatest"),
            Table.Column.figures("Readings"));
    tallies().forEach((where, tally) -> row(table, where, tally));
    table.close();
  }

  /** Where a tally was taken; in the order of the table. */
  private record Where(Signal signal, String instrument, double setpointDegC, String setpoint)
      implements Comparable<Where> {
    private static final Comparator<Where> ORDER =
        Comparator.comparing((Where w) -> WATCHED.indexOf(w.signal()))
            .thenComparing(Where::instrument)
            .thenComparingDouble(Where::setpointDegC);

    @Override
    public int compareTo(Where other) {
      return ORDER.compare(this, other);
    }
  }

  /** One pass over all readings: a night has many, and few of them are of the room. */
  private Map<Where, Tally> tallies() {
    Map<Where, Tally> tallies = new TreeMap<>();
    try (ReadingCursor cursor = sheet.run().readings()) {
      while (cursor.next()) {
        Point point = points.get(cursor.point());
        if (point != null && counts(point, cursor)) {
          tallies.computeIfAbsent(where(point, cursor), w -> new Tally()).add(cursor.value());
        }
      }
    }
    return tallies;
  }

  private static boolean counts(Point point, ReadingCursor cursor) {
    return WATCHED.contains(cursor.signal()) && point.kind() != PointKind.SOAK && cursor.hasValue();
  }

  private static Where where(Point point, ReadingCursor cursor) {
    OptionalDouble set = point.conditions().temperatureDegC();
    double degC = set.orElse(Double.NEGATIVE_INFINITY);
    String words = set.isPresent() ? Numbers.fixed(degC, 1) + " \u00b0C" : "not set";
    return new Where(cursor.signal(), cursor.instrument(), degC, words);
  }

  private static void row(Table table, Where where, Tally tally) {
    Signal signal = where.signal();
    table
        .begin()
        .head(where.setpoint())
        .cell(signal.text())
        .cell(where.instrument())
        .figures(print(tally.least, signal))
        .figures(print(tally.sum / tally.n, signal))
        .figures(print(tally.greatest, signal))
        .figures(Long.toString(tally.n))
        .end();
  }

  private static String print(double value, Signal signal) {
    return switch (signal) {
      case HUMIDITY -> Numbers.fixed(value * 100, 1) + " %";
      case SUPPLY_VOLTAGE -> Numbers.fixed(value, DECIMALS) + " V";
      case SUPPLY_CURRENT -> Numbers.fixed(value * 1e3, DECIMALS) + " mA";
      default -> Numbers.fixed(value, DECIMALS) + " \u00b0C";
    };
  }

  /** What was read back from the instruments: each setting with the values it had. */
  private void settings() {
    Map<String, TreeSet<String>> values = new TreeMap<>();
    points
        .values()
        .forEach(
            p ->
                p.settings()
                    .forEach((k, v) -> values.computeIfAbsent(k, n -> new TreeSet<>()).add(v)));
    if (values.isEmpty()) {
      return;
    }
    Table table =
        Table.open(
            sheet.out(),
            "Settings read back from the instruments",
            Table.Column.words("Setting"),
            Table.Column.words("Values it had"));
    values.forEach((name, all) -> table.row(name, some(all)));
    table.close();
  }

  private static String some(SortedSet<String> values) {
    String shown = values.stream().limit(MOST_SETTINGS).collect(Collectors.joining(", "));
    int more = values.size() - MOST_SETTINGS;
    return more > 0 ? shown + " and " + more + " more" : shown;
  }
}
