// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import java.util.List;
import java.util.stream.Collectors;
import millrace.evidence.DecisionRule.Risks;
import millrace.evidence.ResultQuantity;
import millrace.quantity.NumberText;

/** Writes a board test as a sequence file that a person can read, run and change. */
final class BoardSequence {
  private static final double ROUNDING = 1e6;
  private static final double PERCENT = 100;

  /** Readings of a point that tells only whether the current holds there: two show a scatter. */
  private static final int AT_THE_ENDS = 2;

  private final BoardDesign design;
  private final BoardScope scope;
  private final StringBuilder out = new StringBuilder();

  private BoardSequence(BoardDesign design) {
    this.design = design;
    this.scope = design.scope();
  }

  /**
   * The text of the file.
   *
   * @param design the test
   * @param risks the risks at which a board ends early
   * @param passes the largest number of passes over the loads, 1 or 2
   */
  static String of(BoardDesign design, Risks risks, int passes) {
    BoardSequence writer = new BoardSequence(design);
    writer.head(risks, passes);
    writer.steps(passes);
    return writer.out.toString();
  }

  private void line(int deep, String text) {
    out.append("  ".repeat(deep)).append(text).append('\n');
  }

  private void head(Risks risks, int passes) {
    line(
        0,
        "# A planned board test. Change what you like: 'millrace preview' says what that costs.");
    line(0, "sequence: '" + ("board test of " + scope.datasheet().name()).replace("'", "''") + "'");
    line(0, "compute: " + keys(scope.quantities().stream().toList()));
    line(0, "# Current is read as often as a step below says; the voltage hardly scatters.");
    line(0, "readings: {count: " + mostReadings() + ", line cycles: 2, voltage: 1}");
    line(0, "settle: {wait: 0 s, within: 5 ppm, at most: 5 s}");
    line(0, "# A point that cannot be taken ends the board; it is put aside.");
    line(0, "on failure: stop");
    line(
        0, "# A board ends once every limit is met or one is broken, at these risks. What is left");
    line(0, "# is said to be not measured.");
    line(
        0,
        "early end: {consumer risk: %s %%, producer risk: %s %%%s}"
            .formatted(
                percent(risks.consumer()),
                percent(risks.producer()),
                passes > 1 ? ", again for: " + keys(scope.again().stream().toList()) : ""));
    line(0, "# The bench is checked with a reference unit; say which with --reference SN.");
    line(0, "self-check: {every: 50}");
    line(0, "");
    line(0, "steps:");
  }

  private static String percent(double risk) {
    return plain(PERCENT * risk);
  }

  /** Avoids the digits that binary fractions add. */
  private static String plain(double value) {
    return NumberText.print(Math.rint(value * ROUNDING) / ROUNDING);
  }

  private static String keys(List<ResultQuantity> quantities) {
    return quantities.stream()
        .sorted()
        .map(ResultQuantity::key)
        .collect(Collectors.joining(", ", "[", "]"));
  }

  private int mostReadings() {
    return design.steps().keySet().stream()
        .mapToInt(r -> design.amount(r, BoardLever.READINGS))
        .max()
        .orElseThrow();
  }

  private void steps(int passes) {
    line(1, "- in slots: all");
    line(2, "do:");
    line(3, "# First the ranges that find most bad boards a second.");
    design.alike().forEach(ranges -> pass(ranges, true));
    if (passes > 1) {
      line(3, "# Once more, for boards whose slope is not told well enough yet.");
      design.alike().forEach(ranges -> pass(ranges, false));
    }
  }

  private void pass(List<String> ranges, boolean first) {
    String one = ranges.get(0);
    line(3, "- in ranges: " + names(ranges));
    line(4, "do:");
    if (first || scope.ranges().size() == 1) {
      // a zero marks where a pass over the only range ends
      line(5, "- zero: {count: " + design.amount(one, BoardLever.ZEROS) + "}");
    }
    if (first) {
      line(5, "# Both ends of the plateau by turns, so that a drift is told from a slope.");
    }
    loads(design.loadsPercent(one), design.amount(one, BoardLever.READINGS));
    List<Double> ends = scope.range(one).endsPercent();
    if (first && !ends.isEmpty()) {
      line(5, "# Then up to where current and voltage are promised, and past the knee, so that");
      line(5, "# what falls before it stays out of the line. More readings would tell no more.");
      loads(ends, AT_THE_ENDS);
    }
  }

  private void loads(List<Double> percent, int readings) {
    line(
        5,
        "- over loads: {share of compliance: "
            + percent.stream().map(p -> plain(p) + " %").collect(Collectors.joining(", ", "[", "]"))
            + "}");
    line(6, "sweep: as listed");
    line(6, "readings: {count: " + readings + "}");
  }

  private static String names(List<String> names) {
    return names.stream()
        .map(n -> "'" + n.replace("'", "''") + "'")
        .collect(Collectors.joining(", ", "[", "]"));
  }
}
