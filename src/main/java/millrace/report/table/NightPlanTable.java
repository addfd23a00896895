// SPDX-License-Identifier: Apache-2.0
package millrace.report.table;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import millrace.evidence.ResultQuantity;
import millrace.planning.LimitForecast;
import millrace.planning.night.NightAmount;
import millrace.planning.night.NightDesign;
import millrace.planning.night.NightLever;
import millrace.planning.night.NightPlan;
import millrace.planning.night.TriedNight;
import millrace.quantity.NumberText;
import millrace.report.words.ResultFigures;
import millrace.report.words.ResultWords;

/** Plan of a night for a terminal: the answer, each limit, then the reasons and alternatives. */
public final class NightPlanTable {
  /** Less of the given hours needs no word. */
  private static final double UNUSED_H = 0.25;

  private static final int DIGITS = 2;
  private static final double MINUTES = 60;
  private static final double WHOLE_HOUR = 1;
  private static final Set<ResultQuantity> OF_SET_CURRENTS =
      EnumSet.of(ResultQuantity.GAIN_ERROR, ResultQuantity.OFFSET_ERROR);

  private final NightPlan plan;
  private final Optional<Double> askedH;

  /**
   * The table of a plan.
   *
   * @param plan the plan
   * @param askedH requested hours; empty for the shortest night
   */
  public NightPlanTable(NightPlan plan, Optional<Double> askedH) {
    this.plan = plan;
    this.askedH = askedH;
  }

  /**
   * The answer, and the obstacles to a better one.
   *
   * @return sentences
   */
  public List<String> answer() {
    List<String> lines = new ArrayList<>();
    TriedNight night = plan.night();
    int all = night.limits().size();
    String what =
        night.decided() == all
            ? (all == 1 ? "the one limit" : "all %s limits".formatted(all))
            : "%s of %s limits".formatted(night.decided(), all);
    boolean tooLong = askedH.isPresent() && night.hours() > askedH.get();
    lines.add(
        "A night of %s decides %s, if the unit is as expected."
            .formatted(span(night.hours()), what));
    if (tooLong) {
      lines.add(
          "No night is as short as %s: this is the shortest that measures all of it."
              .formatted(span(askedH.get())));
    }
    askedH
        .filter(most -> plan.searched() && most - night.hours() > UNUSED_H)
        .ifPresent(
            most ->
                lines.add(
                    "Nothing that fits into the other %s lowers U by 1 %% or more: they are not used."
                        .formatted(span(most - night.hours()))));
    int poorer = (int) plan.missed().stream().filter(LimitForecast::isDecided).count();
    if (poorer > 0) {
      lines.add(
          "The U of %s decided %s larger than wanted: with a little bad luck it is not decided."
              .formatted(poorer, poorer == 1 ? "limit is" : "limits is"));
    }
    if (!plan.searched()) {
      lines.add("The search ended when its time was up: a shorter or better night may exist.");
    }
    List<LimitForecast> impossible =
        plan.undecidable().stream()
            .filter(l -> l.answer() == LimitForecast.Answer.TOO_WIDE)
            .toList();
    under(lines, "No night on this bench decides:", ForecastTable.tooWide(impossible));
    under(lines, "Not evaluated by any night:", ForecastTable.wanting(plan.undecidable()));
    if (plan.undecidable().stream().anyMatch(l -> OF_SET_CURRENTS.contains(quantity(l)))) {
      lines.add(
          "A person turns the dial of a settable source: write 'at set currents' into the sequence"
              + " for gain and offset error.");
    }
    int shortOfTime =
        (int) plan.night().limits().stream().filter(l -> !l.isDecided()).count()
            - plan.undecidable().size();
    if (shortOfTime > 0) {
      lines.add(
          "%s would be decided by another night (see the hours below)."
              .formatted(shortOfTime == 1 ? "One more" : shortOfTime + " more"));
    }
    return lines;
  }

  private static ResultQuantity quantity(LimitForecast limit) {
    return limit.result().quantity();
  }

  private static void under(List<String> lines, String head, List<String> rest) {
    if (!rest.isEmpty()) {
      lines.add(head);
      rest.forEach(line -> lines.add("  " + line));
    }
  }

  /**
   * The limits, one line each.
   *
   * @return lines, each with its line feed
   */
  public String limits() {
    return ForecastTable.table(plan.night().limits());
  }

  /**
   * The purpose of each part, the hours per part, and the effect of other hours.
   *
   * @return lines
   */
  public List<String> rest() {
    List<String> lines = new ArrayList<>();
    under(lines, "Largest part of U:", ForecastTable.largestParts(plan.night().limits()));
    lines.add("");
    lines.add("What it is made of:");
    madeOf().forEach((what, amount) -> lines.add("  %-24s %s".formatted(what, amount)));
    if (!plan.kept().isEmpty()) {
      lines.add("Less was too little when it was tried, with the rest as it was then:");
      plan.kept().forEach(k -> lines.add("  " + kept(k)));
    }
    lines.add("Hours:");
    plan.night()
        .secondsByPart()
        .forEach((part, s) -> lines.add("  %-24s %s".formatted(part, span(s / 3600))));
    lines.add(
        "What more or fewer hours would bring (U over the largest that decides, worst limit):");
    lines.addAll(curve());
    lines.add("");
    return lines;
  }

  private Map<String, String> madeOf() {
    NightDesign design = plan.night().design();
    Map<String, String> made = new LinkedHashMap<>();
    if (design.temperatures().size() > 1) {
      made.put(
          "temperatures",
          design.temperatures().stream().map(NumberText::print).collect(Collectors.joining(", "))
              + " degC");
      design.temperatures().stream()
          .distinct()
          .forEach(t -> made.put("  " + NumberText.print(t) + " degC", purpose(design, t)));
    }
    Map<String, List<String>> alike = new LinkedHashMap<>();
    for (String range : design.scope().ranges()) {
      alike.computeIfAbsent(ofRange(design, range), k -> new ArrayList<>()).add(range);
    }
    alike.forEach((what, ranges) -> made.put(String.join(", ", ranges), what));
    for (NightLever lever : NightLever.values()) {
      if (!lever.isOfRange()) {
        NightAmount amount = new NightAmount(lever, Optional.empty());
        design.shown(amount).ifPresent(words -> made.put(lever.text(), words));
      }
    }
    return made;
  }

  private static String purpose(NightDesign design, double degC) {
    double reference = design.scope().referenceDegC();
    if (degC == reference) {
      return "what holds at T_ref; again after each end: tells drift from hysteresis";
    }
    boolean hot = degC > reference;
    boolean end = design.temperatures().stream().allMatch(t -> hot ? t <= degC : t >= degC);
    return end
        ? "the %s end of what is promised: the course over temperature"
            .formatted(hot ? "hot" : "cold")
        : "between: where the course over temperature bends";
  }

  /** Loads and readings of a range. */
  private static String ofRange(NightDesign design, String range) {
    List<String> parts = new ArrayList<>();
    parts.add(
        "loads %s %% of the compliance, %s"
            .formatted(
                design.loadsPercent(range).stream()
                    .map(String::valueOf)
                    .collect(Collectors.joining(", ")),
                design.words(new NightAmount(NightLever.SWEEP, Optional.of(range)))));
    for (NightLever lever :
        List.of(
            NightLever.ENDS,
            NightLever.BETWEEN,
            NightLever.READINGS,
            NightLever.AWAY,
            NightLever.NEAR)) {
      design
          .shown(new NightAmount(lever, Optional.of(range)))
          .ifPresent(words -> parts.add(lever.text() + " " + words));
    }
    return String.join("; ", parts);
  }

  private static String kept(NightPlan.Kept kept) {
    LimitForecast worst = kept.missed();
    String others =
        kept.others() == 0 ? "" : "; %s more would be known too poorly".formatted(kept.others());
    return "%s, %s and not %s: %s would be %s%s"
        .formatted(
            kept.of().text(),
            kept.amount(),
            kept.less(),
            ResultWords.name(worst.result()),
            worst.answer() == LimitForecast.Answer.NOT_KNOWN
                ? "not evaluated"
                : ResultFigures.inWords(worst.result()),
            others);
  }

  /**
   * This night, the best one up to an hour shorter, the best one up to an hour longer, and the best
   * of all.
   */
  private List<String> curve() {
    double here = plan.night().hours();
    List<String> lines = new ArrayList<>();
    best(here - WHOLE_HOUR)
        .filter(p -> p.decided() > 0)
        .ifPresent(p -> lines.add(row(p, "an hour less at least")));
    lines.add(row(plan.here(), "this night"));
    Optional<NightPlan.CurvePoint> more = best(here + WHOLE_HOUR).filter(p -> p.hours() > here);
    more.ifPresent(p -> lines.add(row(p, "an hour more at most")));
    best(Double.POSITIVE_INFINITY)
        .filter(p -> p.hours() > here && !more.equals(Optional.of(p)))
        .ifPresent(p -> lines.add(row(p, "the best of all")));
    return lines;
  }

  private Optional<NightPlan.CurvePoint> best(double mostH) {
    return plan.curve().stream().filter(p -> p.hours() <= mostH).reduce((first, last) -> last);
  }

  private static String row(NightPlan.CurvePoint point, String what) {
    return "  %-24s %s, decides %s%s"
        .formatted(
            what,
            span(point.hours()),
            point.decided(),
            point.worstShare().map(s -> ", worst " + NumberText.significant(s, DIGITS)).orElse(""));
  }

  private static String span(double hours) {
    long minutes = Math.round(hours * MINUTES);
    return minutes < MINUTES
        ? minutes + " min"
        : NumberText.format("%d h %02d min", minutes / 60, minutes % 60);
  }
}
