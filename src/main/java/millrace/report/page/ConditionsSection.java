// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.stream.Collectors;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.logbook.PointCursor;
import millrace.logbook.ReadingCursor;
import millrace.quantity.NumberText;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.page.ReportAnchors.Group;

/**
 * Requested conditions, and the actual conditions of room, chamber and supply during the points.
 */
final class ConditionsSection {
  private static final List<MeasuredSignal> WATCHED =
      List.of(
          MeasuredSignal.UNIT_TEMPERATURE,
          MeasuredSignal.CHAMBER_TEMPERATURE,
          MeasuredSignal.SHUNT_TEMPERATURE,
          MeasuredSignal.LAB_TEMPERATURE,
          MeasuredSignal.HUMIDITY,
          MeasuredSignal.SUPPLY_VOLTAGE,
          MeasuredSignal.SUPPLY_CURRENT);
  private static final int DECIMALS = 3;
  private static final int MOST_SETTINGS = 12;
  private static final int MOST_STAYS = 7;

  private final ReportContext sheet;

  /** Stays in the order of measurement. */
  private final Map<Stay, Integer> order = new HashMap<>();

  private ConditionsSection(ReportContext sheet) {
    this.sheet = sheet;
    sheet.points().groups().forEach(g -> order.putIfAbsent(Stay.of(g), order.size()));
  }

  static void write(ReportContext sheet) {
    ConditionsSection conditions = new ConditionsSection(sheet);
    sheet.folded("Conditions", "conditions", "what was measured beside the current");
    conditions.asked();
    conditions.found();
    conditions.settings();
    sheet.endFolded();
  }

  /** Lists the number of points of each kind, per setpoint. */
  private void asked() {
    String taken =
        sheet.points().taken().entrySet().stream()
            .map(e -> e.getKey() + ": " + e.getValue())
            .collect(Collectors.joining(", "));
    long skipped = sheet.points().skipped();
    sheet.paragraph(
        "Points taken, by kind: "
            + (taken.isEmpty() ? "none" : taken)
            + (skipped > 0 ? "; skipped: " + skipped : "")
            + ". Readings in all: "
            + sheet.run().readingCount()
            + ".");
  }

  /** Minimum, mean and maximum of one signal at one setpoint. */
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
    SortedMap<Where, Tally> all = tallies();
    found(all, false, "During the stays, while points were taken");
    found(all, true, "While the unit came to each temperature");
  }

  /** Writes one row per signal and one column per stay, with as many columns as fit a page. */
  private void found(SortedMap<Where, Tally> all, boolean soaking, String caption) {
    List<Stay> stays =
        all.keySet().stream()
            .filter(w -> w.soaking() == soaking)
            .map(Where::stay)
            .distinct()
            .sorted(Comparator.comparingInt(s -> order.getOrDefault(s, 0)))
            .toList();
    for (int i = 0; i < stays.size(); i += MOST_STAYS) {
      table(caption, stays.subList(i, Math.min(stays.size(), i + MOST_STAYS)), all, soaking);
    }
  }

  private void table(
      String caption, List<Stay> stays, SortedMap<Where, Tally> all, boolean soaking) {
    List<HtmlTable.Column> columns = new ArrayList<>();
    columns.add(HtmlTable.Column.words("Mean, least to greatest, of n readings"));
    stays.forEach(s -> columns.add(HtmlTable.Column.figures(s.inWords())));
    HtmlTable table =
        HtmlTable.stacked(sheet.out(), caption, columns.toArray(HtmlTable.Column[]::new));
    all.keySet().stream()
        .filter(w -> w.soaking() == soaking)
        .map(Where::channel)
        .distinct()
        .forEach(
            c -> {
              table.begin().head(c.signal().text() + " (" + c.instrument() + ")");
              stays.forEach(
                  s ->
                      table.cell(
                          out ->
                              cell(
                                  out, Optional.ofNullable(all.get(new Where(c, soaking, s))), c)));
              table.end();
            });
    table.close();
  }

  private static void cell(Markup out, Optional<Tally> found, Channel channel) {
    found.ifPresent(
        t -> {
          String unit = unit(channel.signal());
          out.element("div", print(t.sum / t.n, channel.signal()) + unit, "class", "figures");
          out.element(
              "div",
              print(t.least, channel.signal())
                  + " to "
                  + print(t.greatest, channel.signal())
                  + ", n "
                  + t.n,
              "class",
              "at");
        });
  }

  /**
   * One stay at a temperature.
   *
   * @param setpointDegC setpoint of the chamber; below all others if none was set
   * @param visit number of earlier visits
   */
  private record Stay(double setpointDegC, int visit) {
    static Stay of(Group g) {
      return new Stay(g.degC().orElse(Double.NEGATIVE_INFINITY), g.visit());
    }

    String inWords() {
      String degC =
          Double.isFinite(setpointDegC)
              ? "set to " + NumberText.fixed(setpointDegC, 1) + " \u00b0C"
              : "not set";
      return degC + (visit > 0 ? ", visit " + (visit + 1) : "");
    }
  }

  /** A measured signal and its instrument. */
  private record Channel(MeasuredSignal signal, String instrument) {}

  /** The place of a tally, in the order of the table. */
  private record Where(Channel channel, boolean soaking, Stay stay) implements Comparable<Where> {
    private static final Comparator<Where> ORDER =
        Comparator.comparing((Where w) -> WATCHED.indexOf(w.channel().signal()))
            .thenComparing(w -> w.channel().instrument())
            .thenComparing(Where::soaking)
            .thenComparingDouble(w -> w.stay().setpointDegC())
            .thenComparingInt(w -> w.stay().visit());

    @Override
    public int compareTo(Where other) {
      return ORDER.compare(this, other);
    }
  }

  /** Tallies of what concerns the room: a night has many readings, and few do. */
  private SortedMap<Where, Tally> tallies() {
    SortedMap<Where, Tally> tallies = new TreeMap<>();
    try (ReadingCursor cursor = sheet.run().readings(WATCHED);
        PointCursor points = sheet.run().pointsOneByOne()) {
      Point point = null;
      while (cursor.next()) {
        if (point == null || point.id() != cursor.point()) {
          point = points.to(cursor.point());
        }
        if (cursor.hasValue()) {
          tallies.computeIfAbsent(where(point, cursor), w -> new Tally()).add(cursor.value());
        }
      }
    }
    return tallies;
  }

  private static Where where(Point point, ReadingCursor cursor) {
    boolean soaking = point.kind() == PointKind.SOAK || point.kind() == PointKind.KNEE;
    return new Where(
        new Channel(cursor.signal(), cursor.instrument()), soaking, Stay.of(Group.of(point)));
  }

  private static String print(double value, MeasuredSignal signal) {
    return switch (signal) {
      case HUMIDITY -> NumberText.fixed(value * 100, 1);
      case SUPPLY_CURRENT -> NumberText.fixed(value * 1e3, DECIMALS);
      default -> NumberText.fixed(value, DECIMALS);
    };
  }

  private static String unit(MeasuredSignal signal) {
    return switch (signal) {
      case HUMIDITY -> " %";
      case SUPPLY_VOLTAGE -> " V";
      case SUPPLY_CURRENT -> " mA";
      default -> " \u00b0C";
    };
  }

  /** Writes the settings read back from the instruments, with all values of each. */
  private void settings() {
    SortedMap<String, SortedSet<String>> values = sheet.points().settings();
    if (values.isEmpty()) {
      return;
    }
    HtmlTable table =
        HtmlTable.open(
            sheet.out(),
            "Settings read back from the instruments",
            HtmlTable.Column.words("Setting"),
            HtmlTable.Column.words("Values it had"));
    values.forEach((name, all) -> table.row(name, some(all)));
    table.close();
  }

  private static String some(SortedSet<String> values) {
    String shown = values.stream().limit(MOST_SETTINGS).collect(Collectors.joining(", "));
    int more = values.size() - MOST_SETTINGS;
    return more > 0 ? shown + " and " + more + " more" : shown;
  }
}
