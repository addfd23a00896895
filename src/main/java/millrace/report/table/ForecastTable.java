// SPDX-License-Identifier: Apache-2.0
package millrace.report.table;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.LongSummaryStatistics;
import java.util.Map;
import java.util.Optional;
import millrace.evidence.Result;
import millrace.planning.LimitForecast;
import millrace.quantity.NumberText;
import millrace.report.words.MissingMeasurements;
import millrace.report.words.ResultFigures;
import millrace.report.words.ResultWords;

/**
 * Forecast of a run for a terminal: the answer, one line per limit, then the obstacles. Stateless.
 */
public final class ForecastTable {
  private static final int WIDEST = 34;
  private static final int DIGITS = 2;

  private ForecastTable() {}

  /**
   * The answer.
   *
   * @param limits the limits of a computed run
   * @return one sentence
   */
  public static String answer(List<LimitForecast> limits) {
    long decided = limits.stream().filter(LimitForecast::isDecided).count();
    if (limits.isEmpty()) {
      return "The datasheet states no limits: this run decides nothing.";
    }
    return decided == limits.size()
        ? "This run decides %s, if the unit is as expected."
            .formatted(limits.size() == 1 ? "its limit" : "all " + limits.size() + " limits")
        : "This run decides %s of %s limits, if the unit is as expected; %s."
            .formatted(decided, limits.size(), rest(limits));
  }

  /**
   * The expected values and their reliability.
   *
   * @param like run of an earlier unit that the forecast uses; empty for the datasheet alone
   * @param unstated meters without a noise figure in the bench file
   * @return one or more sentences
   */
  public static String expected(Optional<String> like, List<String> unstated) {
    if (like.isPresent()) {
      return "Expected are the errors of run %s, and its scatter of readings."
          .formatted(like.get());
    }
    String meters =
        unstated.isEmpty()
            ? "the noise that the bench file states of its meters."
            : ("a noise of three steps at one line cycle of %s, whose noise the bench file does not"
                    + " state (accuracy, 'noise'): a U that rests on scatter can come out twice as"
                    + " large, or half.")
                .formatted(String.join(" and ", unstated));
    return "Expected is a unit as its datasheet means it to be, and "
        + meters
        + " --like RUN takes the errors and the scatter of an earlier unit.";
  }

  /**
   * What the time of settling until readings agree leans on.
   *
   * @param like run of an earlier unit that the forecast uses; empty for the datasheet alone
   * @param unstated meters without a noise figure in the bench file
   * @return a sentence
   */
  public static String settling(Optional<String> like, List<String> unstated) {
    String scatter =
        like.map(run -> "those of run " + run + " scatter")
            .orElse(
                unstated.isEmpty()
                    ? "the bench file says that they scatter, with the usual noise of a unit"
                    : "usual readings scatter, since the bench file does not state the noise of "
                        + String.join(" and ", unstated));
    return "Settling 'within' is counted by how %s. A source that settles more slowly takes longer."
        .formatted(scatter);
  }

  private static String rest(List<LimitForecast> limits) {
    List<String> parts = new ArrayList<>();
    long wide = count(limits, LimitForecast.Answer.TOO_WIDE);
    long unknown = count(limits, LimitForecast.Answer.NOT_KNOWN);
    if (wide > 0) {
      parts.add("U is too large for " + wide);
    }
    if (unknown > 0) {
      parts.add("something is not measured for " + unknown);
    }
    return String.join(", ", parts);
  }

  private static long count(List<LimitForecast> limits, LimitForecast.Answer answer) {
    return limits.stream().filter(l -> l.answer() == answer).count();
  }

  /**
   * The limits, one line each.
   *
   * @param limits the limits of a computed run
   * @return lines, each with its line feed; empty text without limits
   */
  public static String table(List<LimitForecast> limits) {
    TextColumns table =
        new TextColumns(WIDEST, "limit", "range", "expected \u00b1 U", "TUR", "answer");
    for (LimitForecast each : limits) {
      Result r = each.result();
      table.row(
          r.quantity().inWords(),
          r.range().orElse(""),
          ResultFigures.inWords(r),
          ratio(each),
          each.answer().text());
    }
    return table.text();
  }

  private static String ratio(LimitForecast each) {
    var ratio = each.result().judgement().orElseThrow().testUncertaintyRatio();
    return ratio.isPresent() ? NumberText.significant(ratio.getAsDouble(), DIGITS) : "";
  }

  private static String share(LimitForecast.Share share) {
    return "%s (%s %%)%s"
        .formatted(
            share.component(),
            Math.round(share.share() * 100),
            share.owner().map(o -> ": " + o).orElse(""));
  }

  /**
   * The largest part of U for each limit; limits with the same part share a line.
   *
   * @param limits the limits of a computed run
   * @return one line per part, with the certificate concerned and the share of u^2
   */
  public static List<String> largestParts(List<LimitForecast> limits) {
    Map<String, List<LimitForecast>> parts = new LinkedHashMap<>();
    for (LimitForecast each : limits) {
      each.largest()
          .ifPresent(share -> parts.computeIfAbsent(part(share), p -> new ArrayList<>()).add(each));
    }
    return parts.entrySet().stream().map(e -> e.getKey() + ": " + all(e.getValue())).toList();
  }

  /** The part of a share; all ranges of an instrument are one part. */
  private static String part(LimitForecast.Share share) {
    return share
        .owner()
        .map(owner -> share.component().split(",", 2)[0] + " (" + owner + ")")
        .orElse(share.component());
  }

  private static String all(List<LimitForecast> limits) {
    LongSummaryStatistics percent =
        limits.stream()
            .mapToLong(l -> Math.round(100 * l.largest().orElseThrow().share()))
            .summaryStatistics();
    String least = percent.getMin() == percent.getMax() ? "" : percent.getMin() + " to ";
    return "%s, %s%s %% of u^2"
        .formatted(
            ResultWords.each(limits.stream().map(LimitForecast::result).toList()),
            least,
            percent.getMax());
  }

  /**
   * Limits that U leaves undecided, and a remedy.
   *
   * @param limits the limits of a computed run
   * @return one sentence per limit
   */
  public static List<String> tooWide(List<LimitForecast> limits) {
    return limits.stream()
        .filter(l -> l.answer() == LimitForecast.Answer.TOO_WIDE)
        .map(ForecastTable::tooWide)
        .toList();
  }

  private static String tooWide(LimitForecast limit) {
    Result r = limit.result();
    return ResultWords.name(r)
        + ": "
        + ResultFigures.inWords(r)
        + limit
            .largestU()
            .map(u -> "; U of at most " + ResultWords.amount(u, r) + " would decide it")
            .orElse("")
        + limit.largest().map(s -> ". Largest part: " + share(s) + enough(limit)).orElse("")
        + limit.remedy().map(what -> ". What can make it smaller: " + what).orElse("")
        + ".";
  }

  /** Whether a smaller largest part alone would decide. */
  private static String enough(LimitForecast limit) {
    Result r = limit.result();
    return limit
        .mostOfLargest()
        .map(most -> "; it may be at most " + ResultWords.amount(most, r) + " of U")
        .or(
            () ->
                limit
                    .withoutLargest()
                    .map(
                        rest ->
                            "; without it U would still be "
                                + ResultWords.amount(rest, r)
                                + ", so that more than this has to change"))
        .orElse("");
  }

  /**
   * Missing measurements or facts for limits that are not evaluated.
   *
   * @param limits the limits of a computed run
   * @return sentences, each once
   */
  public static List<String> wanting(List<LimitForecast> limits) {
    return MissingMeasurements.of(limits.stream().map(LimitForecast::result).toList());
  }
}
