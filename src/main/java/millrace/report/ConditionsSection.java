package millrace.report;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
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
    sheet.section("Conditions", "conditions");
    conditions.asked();
    conditions.found();
    conditions.settings();
    sheet.end();
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
    WATCHED.forEach(s -> tallies(s).forEach((where, tally) -> row(table, s, where, tally)));
    table.close();
  }

  /** Where a tally was taken; in the order of the table. */
  private record Where(double setpointDegC, String setpoint, String instrument)
      implements Comparable<Where> {
    @Override
    public int compareTo(Where other) {
      int byInstrument = instrument.compareTo(other.instrument);
      return byInstrument != 0 ? byInstrument : Double.compare(setpointDegC, other.setpointDegC);
    }
  }

  private Map<Where, Tally> tallies(Signal signal) {
    Map<Where, Tally> tallies = new TreeMap<>();
    try (ReadingCursor cursor = sheet.run().readings(signal)) {
      while (cursor.next()) {
        Point point = points.get(cursor.point());
        if (point != null && point.kind() != PointKind.SOAK && cursor.hasValue()) {
          tallies
              .computeIfAbsent(where(point, cursor.instrument()), w -> new Tally())
              .add(cursor.value());
        }
      }
    }
    return tallies;
  }

  private static Where where(Point point, String instrument) {
    OptionalDouble set = point.conditions().temperatureDegC();
    return set.isPresent()
        ? new Where(set.getAsDouble(), Numbers.fixed(set.getAsDouble(), 1) + " \u00b0C", instrument)
        : new Where(Double.NEGATIVE_INFINITY, "not set", instrument);
  }

  private static void row(Table table, Signal signal, Where where, Tally tally) {
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

  private static String some(java.util.SortedSet<String> values) {
    String shown = values.stream().limit(MOST_SETTINGS).collect(Collectors.joining(", "));
    int more = values.size() - MOST_SETTINGS;
    return more > 0 ? shown + " and " + more + " more" : shown;
  }
}
