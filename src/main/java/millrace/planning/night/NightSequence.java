// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import millrace.quantity.NumberText;

/** Writes a night as a sequence file that a person can read, run and change. */
final class NightSequence {
  private static final double LOW_LOAD = 30;

  /** Few readings of a check standard do, since every stay waits for them. */
  private static final int CHECK_READINGS = 10;

  private final NightDesign design;
  private final NightScope scope;
  private final StringBuilder out = new StringBuilder();

  private NightSequence(NightDesign design) {
    this.design = design;
    this.scope = design.scope();
  }

  /** The text of the file. */
  static String of(NightDesign design) {
    NightSequence writer = new NightSequence(design);
    writer.head();
    writer.steps();
    return writer.out.toString();
  }

  private void line(int deep, String text) {
    out.append("  ".repeat(deep)).append(text).append('\n');
  }

  private void head() {
    line(0, "# A planned night. Change what you like: 'millrace preview' says what that costs.");
    line(0, "sequence: " + quoted(scope.title()));
    line(0, "# Scatter averages out over the readings of a point; the voltage hardly scatters.");
    line(
        0,
        "readings: {count: %s, line cycles: 10, voltage: %s}"
            .formatted(mostReadings(), voltages(mostReadings())));
    line(0, "settle: {wait: 1 s}");
    line(0, "on failure: go on flagged");
    line(0, "");
    line(0, "steps:");
  }

  private int mostReadings() {
    return scope.ranges().stream().mapToInt(design::readings).max().orElseThrow();
  }

  private int voltages(int readings) {
    return Math.min(design.voltages(), readings);
  }

  private void steps() {
    line(1, "# Wiring and polarity first: a loose lead stops the run before the chamber moves.");
    line(1, "- in slots: " + slots());
    line(2, "do: trial lap");
    line(
        1,
        "# The meter drifts too: check standards tell by how much. A bench without passes over.");
    checkStandards(1);
    if (scope.wantsPowerOn()) {
      powerOn();
    }
    if (scope.moves()) {
      temperatures();
    } else {
      line(1, "- in slots: " + slots());
      line(2, "do:");
      zeros(3, scope.ranges());
      loads(3, scope.referenceDegC());
      knees(3);
    }
    extras();
    checkStandards(1);
  }

  private void checkStandards(int deep) {
    line(deep, "- check standard: all");
    if (mostReadings() > CHECK_READINGS) {
      readings(deep + 1, CHECK_READINGS);
    }
  }

  private void readings(int deep, int count) {
    line(deep, "readings: {count: %s, voltage: %s}".formatted(count, voltages(count)));
  }

  private void temperatures() {
    why().forEach(text -> line(1, "# " + text));
    List<Double> visits = design.temperatures();
    for (int i = 0; i < visits.size(); i++) {
      visit(visits.get(i), design.findsKnee(i));
    }
  }

  private void visit(double degC, boolean withKnee) {
    List<String> measured =
        scope.ranges().stream().filter(r -> design.points(r, degC).isPresent()).toList();
    if (measured.isEmpty()) {
      return;
    }
    line(1, "- at temperatures: " + NumberText.print(degC) + " degC");
    line(2, "ramp: " + NumberText.print(scope.rampKPerMin()) + " K/min");
    line(
        2,
        "soak: {within: %s ppm, at least: %s min, at most: 2 h, if it takes longer: go on flagged}"
            .formatted(NumberText.print(design.soakPpm()), design.soakMin()));
    line(2, "# What hardly depends on the temperature is done on the way: it costs no time.");
    line(2, "while it soaks:");
    line(3, "- in slots: " + slots());
    line(4, "do:");
    zeros(5, measured);
    if (withKnee) {
      knees(5);
    }
    line(2, "do:");
    checkStandards(3);
    line(3, "- in slots: " + slots());
    line(4, "do:");
    loads(5, degC);
  }

  private List<String> why() {
    return scope.hotDegC().isPresent() && scope.coldDegC().isPresent()
        ? List.of(
            "The ends of what is promised, the hot one first: it dries air and unit. The reference",
            "temperature comes before, between and after: only so is hysteresis told from drift.")
        : List.of(
            "The end of what is promised, then half the way again. The reference temperature comes",
            "before, between and after: only so is hysteresis told from drift.");
  }

  private void zeros(int deep, List<String> measured) {
    line(deep, "# The meter's own reading with no current in it, once a range.");
    line(deep, "- in ranges: " + names(measured));
    line(deep + 1, "do:");
    line(deep + 2, "- zero: {count: " + design.zeroReadings() + "}");
  }

  private void knees(int deep) {
    if (scope.wantsKnee()) {
      line(deep, "# Where the current gives way, by bisection; a fall is seen in two readings.");
      line(deep, "- in ranges: " + ranges());
      line(deep + 1, "do:");
      line(
          deep + 2,
          "- find the knee: {to: %s mV, up to: 130 %%}"
              .formatted(NumberText.print(design.kneeV() * 1e3)));
      line(deep + 3, "readings: {count: 2, voltage: 2}");
      line(deep + 3, "settle: {wait: 0.5 s}");
    }
  }

  /** Ranges with the same points together, in the order of the datasheet. */
  private void loads(int deep, double degC) {
    Map<NightDesign.Points, List<String>> alike = new LinkedHashMap<>();
    for (String range : scope.ranges()) {
      design
          .points(range, degC)
          .ifPresent(p -> alike.computeIfAbsent(p, k -> new ArrayList<>()).add(range));
    }
    String before = "";
    for (Map.Entry<NightDesign.Points, List<String>> each : alike.entrySet()) {
      String why = why(each.getKey());
      if (!why.equals(before)) {
        line(deep, "# " + why);
      }
      before = why;
      points(deep, each.getKey(), names(each.getValue()));
    }
  }

  private void points(int deep, NightDesign.Points points, String ranges) {
    line(deep, "- in ranges: " + ranges);
    line(deep + 1, "do:");
    String shares = points.loads().stream().map(p -> p + " %").collect(Collectors.joining(", "));
    line(deep + 2, "- over loads: {share of compliance: [" + shares + "]}");
    line(deep + 3, "sweep: " + points.sweep());
    if (points.readings() != mostReadings()) {
      readings(deep + 3, points.readings());
    }
  }

  private static String why(NightDesign.Points points) {
    return switch (points.sweep()) {
      case "both" -> "The ends of the plateau tell the slope; the way back tells a drift from it.";
      case "as listed" -> "Low and high loads by turns: a drift does not look like a slope.";
      default -> "A few loads do here: they tell the current.";
    };
  }

  private void powerOn() {
    line(1, "# The unit must be cold: somebody has to be there at the start.");
    inRanges(
        List.of(
            "- ask: Has the unit been off for at least two hours?",
            "- watch from power-on: {for: 1 h, every: 2 s}"),
        50);
  }

  private void extras() {
    if (!scope.suppliesV().isEmpty()) {
      String volts =
          scope.suppliesV().stream()
              .map(v -> NumberText.print(v) + " V")
              .collect(Collectors.joining(", "));
      line(1, "# Out and back: the middle is visited three times and shows the drift.");
      inRanges(
          List.of(
              "- at supply voltages: [" + volts + "]", "  settle: {wait: 5 s}", "  do: measure"),
          LOW_LOAD);
    }
    if (scope.wantsLeakage()) {
      line(1, "# What flows with the source off.");
      line(1, "- in slots: " + slots());
      line(2, "do:");
      line(3, "- in ranges: " + ranges());
      line(4, "do:");
      line(5, "- over loads: {resistance: [0 ohm, 1 Mohm, 10 Mohm]}");
      line(6, "sweep: up");
      line(6, "do: source off");
    }
    if (scope.wantsRecord()) {
      line(1, "# A record over time, read as the points are: it tells drift and slow noise.");
      inRanges(List.of("- watch: {for: " + NumberText.print(design.recordH()) + " h}"), 1);
    }
  }

  /** Steps at one load, in every range of every slot. */
  private void inRanges(List<String> steps, double loadPercent) {
    line(1, "- in slots: " + slots());
    line(2, "do:");
    line(3, "- in ranges: " + ranges());
    line(4, "do:");
    line(5, "- over loads: {share of compliance: [" + NumberText.print(loadPercent) + " %]}");
    line(6, "sweep: as listed");
    line(6, "do:");
    steps.forEach(step -> line(7, step));
  }

  private String slots() {
    return names(scope.slots());
  }

  private String ranges() {
    return names(scope.ranges());
  }

  private static String names(List<String> names) {
    return names.isEmpty()
        ? "all"
        : names.stream().map(NightSequence::quoted).collect(Collectors.joining(", ", "[", "]"));
  }

  /** Quotes a name as one word of the file, whatever it contains. */
  private static String quoted(String name) {
    return "'" + name.replace("'", "''") + "'";
  }
}
