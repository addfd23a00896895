// SPDX-License-Identifier: Apache-2.0
package millrace.report.table;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import millrace.evidence.ResultQuantity;
import millrace.planning.boards.BoardForecaster.Stay;
import millrace.planning.boards.BoardLever;
import millrace.planning.boards.BoardPlan;
import millrace.planning.boards.BoardPlan.Hindrance;
import millrace.planning.boards.BoardRisks.LimitRisk;
import millrace.planning.boards.TriedBoardTest;
import millrace.quantity.NumberText;
import millrace.report.words.ResultFigures;
import millrace.report.words.ResultWords;

/** Plan of a board test for a terminal: the answer, each limit, each range, then the reasons. */
public final class BoardPlanTable {
  private static final int WIDEST = 34;
  private static final int DIGITS = 2;
  private static final double PERCENT = 100;

  /** Smallest risk that is printed as a number, %. */
  private static final double LEAST_PERCENT = 1e-4;

  private final BoardPlan plan;
  private final TriedBoardTest test;

  /**
   * The table of a plan.
   *
   * @param plan the plan
   */
  public BoardPlanTable(BoardPlan plan) {
    this.plan = plan;
    this.test = plan.test();
  }

  /**
   * The answer, and the obstacles to a better one.
   *
   * @return sentences
   */
  public List<String> answer() {
    List<String> lines = new ArrayList<>();
    String time =
        "%s s a board on average (at most %s s, %s)"
            .formatted(
                figure(test.meanS()),
                figure(test.longestS()),
                NumberText.counted(test.points(), "point"));
    String risks =
        "a bad board passes in %s of all (asked for %s), a good one fails in %s (asked for %s)"
            .formatted(
                percent(test.risks().consumer()),
                percent(plan.stated().consumer()),
                percent(test.risks().producer()),
                percent(plan.stated().producer()));
    if (plan.isHeld()) {
      lines.add("A board test of %s holds both risks: %s.".formatted(time, risks));
    } else if (isKnown()) {
      lines.add("No board test on this bench holds both risks: %s.".formatted(risks));
      lines.add("The shortest that is as good as any takes %s.".formatted(time));
    } else {
      lines.add(
          "Whether a board test holds both risks is not known. The shortest takes " + time + ".");
    }
    plan.hindrances().forEach(h -> lines.add("  " + hindrance(h)));
    if (!plan.searched()) {
      lines.add("The search ended when its time was up: a shorter test may exist.");
    }
    return lines;
  }

  private boolean isKnown() {
    return test.risks().limits().stream().allMatch(LimitRisk::isKnown);
  }

  /** The U that would do, and what it takes. */
  private static String wanted(double expandedU, LimitRisk risk) {
    String largest =
        risk.limit()
            .largest()
            .map(
                s ->
                    " Largest part: %s (%s %%)%s."
                        .formatted(
                            s.component(),
                            Math.round(PERCENT * s.share()),
                            s.owner().map(o -> ": " + o).orElse("")))
            .orElse("");
    String remedy =
        risk.limit().remedy().map(r -> " What can make it smaller: " + r + ".").orElse("");
    return "U of at most " + amount(expandedU, risk) + " would do." + largest + remedy;
  }

  private static String hindrance(Hindrance h) {
    LimitRisk risk = h.risk();
    String name = ResultWords.name(risk.limit().result());
    return switch (h.trouble()) {
      case CONSUMER, PRODUCER ->
          "%s: %s, %s of all; %s. %s"
              .formatted(
                  name,
                  h.trouble().text(),
                  percent(
                      h.trouble() == BoardPlan.Trouble.CONSUMER
                          ? risk.consumer()
                          : risk.producer()),
                  ResultFigures.inWords(risk.limit().result()),
                  h.neededU()
                      .map(u -> wanted(u, risk))
                      .orElse("Boards lie too near this limit for any U."));
      case NOT_EVALUATED ->
          name
              + ": not evaluated by a board test: "
              + ResultFigures.missing(risk.limit().result())
                  .orElseGet(() -> ResultFigures.inWords(risk.limit().result()))
              + ". --like RUN takes what is missing from a type run.";
      case NO_SPREAD ->
          name
              + ": nothing tells how boards spread in it. --batch NAME takes it from 10 boards or"
              + " more; parts in the datasheet tell it too.";
    };
  }

  private static String amount(double u, LimitRisk risk) {
    return ResultWords.amount(u, risk.limit().result());
  }

  private static String figure(double seconds) {
    return NumberText.significant(seconds, DIGITS);
  }

  private static String percent(double risk) {
    double shown = PERCENT * risk;
    return shown < LEAST_PERCENT ? "below 0.0001 %" : NumberText.significant(shown, DIGITS) + " %";
  }

  /**
   * The limits, one line each.
   *
   * @return lines, each with its line feed
   */
  public String limits() {
    TextColumns table =
        new TextColumns(
            WIDEST, "limit", "range", "expected \u00b1 U", "bad pass", "good fail", "again");
    test.risks().limits().stream()
        .sorted(Comparator.comparingDouble((LimitRisk r) -> -r.producer() - r.consumer()))
        .forEach(
            r ->
                table.row(
                    r.limit().result().quantity().inWords(),
                    r.limit().result().range().orElse(""),
                    ResultFigures.inWords(r.limit().result()),
                    r.isKnown() ? percent(r.consumer()) : "?",
                    r.isKnown() ? percent(r.producer()) : "?",
                    r.isKnown() ? percent(r.again()) : "?"));
    return table.text();
  }

  /**
   * The ranges, one line each, in the order of measurement.
   *
   * @return lines, each with its line feed
   */
  public String ranges() {
    TextColumns table =
        new TextColumns(
            WIDEST, "range", "points", "readings", "zero", "time", "boards failing", "per s");
    for (String range : test.design().steps().keySet()) {
      Stay first = test.first(range);
      double failing = test.risks().rejected().getOrDefault(range, 0.0);
      table.row(
          range,
          String.valueOf(first.points()),
          String.valueOf(test.design().amount(range, BoardLever.READINGS)),
          String.valueOf(test.design().amount(range, BoardLever.ZEROS)),
          figure(first.seconds()) + " s",
          percent(failing),
          percent(failing / first.seconds()));
    }
    return table.text();
  }

  /**
   * The basis of the plan, and the reasons why its parts cannot be shorter.
   *
   * @param typeRun the type run that the plan relies on, in words
   * @param scatter the run that gives the scatter of readings
   * @return lines
   */
  public List<String> rest(Optional<String> typeRun, Optional<Long> scatter) {
    List<String> lines = new ArrayList<>();
    lines.add(
        "Boards spread as %s tell; each risk is counted over all boards."
            .formatted(
                String.join(
                    " and ", plan.spread().isEmpty() ? List.of("nothing") : plan.spread())));
    lines.add(leaning(typeRun));
    lines.add(
        scatter
            .map(run -> "Readings scatter as in run %s.".formatted(run))
            .orElse(
                "Readings scatter as the bench file states, or as is usual: a U that rests on"
                    + " scatter can come out twice as large, or half. --batch NAME or --like RUN"
                    + " takes what readings scattered."));
    lines.add(
        "The time counts settling by how readings scatter; a source that settles more slowly takes"
            + " longer.");
    plan.sequential()
        .ifPresent(
            s ->
                lines.add(
                    "No sequential test gets by with fewer than %s of a pass on average (Wald), for %s."
                        .formatted(
                            NumberText.significant(s.passes(), DIGITS),
                            ResultWords.name(s.limit().result()))));
    if (!plan.kept().isEmpty()) {
      lines.add("Less would be too little:");
      plan.kept().forEach(k -> lines.add("  " + k));
    }
    lines.add(
        "A good board fails early in part of the stated risk; what is left of a board that ends"
            + " early is said to be not measured.");
    lines.add("");
    return lines;
  }

  private String leaning(Optional<String> typeRun) {
    String left =
        test.design().scope().left().stream()
            .sorted()
            .map(ResultQuantity::inWords)
            .map(w -> w.toLowerCase(Locale.ROOT))
            .collect(Collectors.joining(", "));
    String what = left.isEmpty() ? "" : "; limits on " + left + " are left to it";
    return typeRun
        .map(
            run ->
                "It leans on the type run, %s, for what a board test does not measure%s. Name it to 'production' with --like, too."
                    .formatted(run, what))
        .orElse(
            "It leans on the worst case of the parts for what a board test does not measure"
                + (left.isEmpty()
                    ? "."
                    : "; limits on "
                        + left
                        + " are left to a type run, and none is named: --like RUN."));
  }
}
