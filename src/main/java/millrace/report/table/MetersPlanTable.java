// SPDX-License-Identifier: Apache-2.0
package millrace.report.table;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import millrace.calibration.AccuracyStatement;
import millrace.datasheet.Datasheet;
import millrace.planning.LimitForecast;
import millrace.planning.meters.AccuracyGroup;
import millrace.planning.meters.AccuracyNeed;
import millrace.planning.meters.MetersPlan;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;
import millrace.report.words.ResultWords;

/**
 * Required accuracy of instruments for a terminal: the answer, one line per part, then the rest.
 */
public final class MetersPlanTable {
  private static final int DIGITS = 3;
  private static final int WIDEST = 60;

  private final MetersPlan plan;
  private final Datasheet datasheet;

  /**
   * The table of a plan.
   *
   * @param plan the plan
   * @param datasheet datasheet with the limits to decide
   */
  public MetersPlanTable(MetersPlan plan, Datasheet datasheet) {
    this.plan = plan;
    this.datasheet = datasheet;
  }

  /**
   * The answer.
   *
   * @return lines
   */
  public List<String> answer() {
    List<String> lines = new ArrayList<>();
    plan.own().ifPresent(own -> own(lines, own));
    long decided = plan.limits().stream().filter(LimitForecast::isDecided).count();
    if (!plan.impossible().isEmpty()) {
      lines.add("No accuracy decides: " + names(plan.impossible()) + ".");
      ForecastTable.tooWide(of(LimitForecast.Answer.TOO_WIDE))
          .forEach(line -> lines.add("  " + line));
      ForecastTable.wanting(of(LimitForecast.Answer.NOT_KNOWN))
          .forEach(line -> lines.add("  " + line));
    }
    List<LimitForecast> left = left();
    if (!left.isEmpty()) {
      lines.add("The search found no accuracy for: " + names(left) + ".");
    }
    if (plan.needs().isEmpty() && decided == 0) {
      return lines;
    }
    lines.add(
        "%s decide %s of %s limits, if the unit is as expected%s%s"
            .formatted(
                plan.needs().isEmpty() ? "Any instruments" : "Instruments as accurate as this",
                decided,
                plan.limits().size(),
                failing(),
                plan.needs().isEmpty() ? "." : ":"));
    return lines;
  }

  /** A limit counts as decided, too, where the expected unit breaks it. */
  private String failing() {
    List<LimitForecast> broken =
        plan.limits().stream().filter(l -> l.answer() == LimitForecast.Answer.FAIL).toList();
    return broken.isEmpty() ? "" : "; it would fail " + names(broken);
  }

  private List<LimitForecast> of(LimitForecast.Answer answer) {
    return plan.impossible().stream().filter(l -> l.answer() == answer).toList();
  }

  /** Limits that instruments without errors decide, and these do not. */
  private List<LimitForecast> left() {
    List<String> impossible = plan.impossible().stream().map(LimitForecast::key).toList();
    return plan.limits().stream()
        .filter(l -> !l.isDecided() && !impossible.contains(l.key()))
        .toList();
  }

  private void own(List<String> lines, MetersPlan.Own own) {
    List<LimitForecast> open = own.limits().stream().filter(l -> !l.isDecided()).toList();
    lines.add(
        open.isEmpty()
            ? "Your instruments decide all %s limits, if the unit is as expected."
                .formatted(own.limits().size())
            : "Your instruments leave %s of %s limits open: %s."
                .formatted(open.size(), own.limits().size(), names(open)));
    for (MetersPlan.Alone each : own.alone()) {
      lines.add(
          "  %s '%s' %s"
              .formatted(
                  each.role(),
                  each.instrument(),
                  each.open().isEmpty()
                      ? "leaves none open by itself"
                      : "leaves open, even if all others had no error: " + names(each.open())));
    }
    lines.add("");
  }

  private static String names(List<LimitForecast> limits) {
    return limits.stream()
        .map(l -> ResultWords.name(l.result()))
        .distinct()
        .collect(Collectors.joining(", "));
  }

  /**
   * The parts of the accuracy statement that a limit needs, one line each.
   *
   * @return lines, each with its line feed
   */
  public String needs() {
    List<String> head =
        new ArrayList<>(List.of("instrument", "range", "within", "at", "for", "bound by"));
    plan.own().ifPresent(own -> head.add("yours"));
    TextColumns table = new TextColumns(WIDEST, head.toArray(String[]::new));
    plan.needs().forEach(need -> table.row(row(need).toArray(String[]::new)));
    return table.text();
  }

  private List<String> row(AccuracyNeed need) {
    AccuracyGroup group = need.group();
    List<String> row = new ArrayList<>();
    row.add(group.roleInWords());
    row.add(group.fullScale().map(f -> QuantityText.print(f, group.dimension())).orElse("all"));
    row.add(within(need));
    row.add(at(need).orElse(""));
    row.add(need.ranges().size() == datasheet.ranges().size() ? "all" : each(need.ranges()));
    row.add(need.binding().map(l -> ResultWords.name(l.result())).orElse("nothing: any will do"));
    plan.own().ifPresent(own -> row.add(need.factor() >= 1 ? "enough" : "too poor"));
    return row;
  }

  private static String each(List<String> ranges) {
    return String.join(", ", ranges);
  }

  /** The part as a bench file states it. */
  private static String within(AccuracyNeed need) {
    AccuracyStatement a = need.statement();
    if (need.group().kind() == AccuracyGroup.Kind.LINEARITY) {
      return "linearity " + ppm(a.transfer().orElse(0.0)) + " of full scale";
    }
    List<String> parts = new ArrayList<>();
    if (a.ofReading() > 0) {
      parts.add(ppm(a.ofReading()) + " of reading");
    }
    if (a.ofFullScale() > 0) {
      parts.add(ppm(a.ofFullScale()) + " of full scale");
    }
    if (a.absolute() > 0) {
      parts.add(QuantityText.print(a.absolute(), need.group().dimension(), DIGITS));
    }
    return String.join(" + ", parts) + a.coverageFactor().map(k -> " (k " + k + ")").orElse("");
  }

  private static String ppm(double ratio) {
    return NumberText.significant(ratio * 1e6, DIGITS) + " ppm";
  }

  /** The size of the part at the smallest current of its use. */
  private Optional<String> at(AccuracyNeed need) {
    OptionalDouble least =
        need.ranges().stream()
            .flatMap(r -> datasheet.range(r).stream())
            .mapToDouble(r -> Math.abs(r.nominalA()))
            .min();
    boolean current = need.group().dimension() == Dimension.CURRENT;
    boolean linearity = need.group().kind() == AccuracyGroup.Kind.LINEARITY;
    return current && least.isPresent() && !linearity
        ? Optional.of(
            "%s: %s"
                .formatted(
                    QuantityText.print(least.getAsDouble(), Dimension.CURRENT),
                    ppm(need.totalAt(least.getAsDouble()))))
        : Optional.empty();
  }

  /**
   * Parts without influence, and what the figures mean.
   *
   * @return lines
   */
  public List<String> rest() {
    List<String> lines = new ArrayList<>();
    if (!plan.idle().isEmpty()) {
      lines.add(
          plan.idle().stream()
              .map(AccuracyGroup::inWords)
              .distinct()
              .collect(Collectors.joining("; ", "No limit depends on: ", ".")));
    }
    lines.add(
        "Limits of error over the interval for which they are stated, as in the bench file; all of"
            + " them together. A part that is better lets the others of its limit be poorer.");
    return lines;
  }
}
