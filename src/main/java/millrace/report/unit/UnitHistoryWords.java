// SPDX-License-Identifier: Apache-2.0
package millrace.report.unit;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import millrace.assessment.history.RangeHistory;
import millrace.assessment.history.RangeHistory.Drift;
import millrace.assessment.history.RangeHistory.Forecast;
import millrace.assessment.history.RangeHistory.Visit;
import millrace.assessment.history.UnitHistory;
import millrace.assessment.history.UnitHistory.LookAgain;
import millrace.assessment.history.UnitRun;
import millrace.evidence.ComputationOutcome;
import millrace.quantity.NumberText;
import millrace.report.words.OverallVerdict;
import millrace.report.words.ResultFigures;
import millrace.report.words.RunDays;

/** History of a unit in sentences, the verdict first. Units are in plain letters. Stateless. */
public final class UnitHistoryWords {
  private static final String PPM = "ppm";
  private static final double NEARLY_SURE = 0.999;
  private static final int DIGITS = 6;
  private static final double HALF = 0.5;

  private UnitHistoryWords() {}

  /**
   * The verdict: how the unit stands, when it leaves its limits, when to look again.
   *
   * @param history the history
   * @return whole sentences, in the order of reading
   */
  public static List<String> verdict(UnitHistory history) {
    List<String> said = new ArrayList<>();
    said.add(standing(history));
    List<RangeHistory> leaving = leaving(history);
    leaving.forEach(r -> said.add(leaves(history, r)));
    said.addAll(steady(history));
    said.addAll(silent(history));
    if (history.workSince().isEmpty()) {
      said.add(lookAgain(history));
    }
    return said;
  }

  /**
   * How the unit stood at its last run.
   *
   * @param history the history
   * @return one sentence or two
   */
  public static String standing(UnitHistory history) {
    UnitRun last = history.lastUsed().orElseThrow();
    OverallVerdict verdict = OverallVerdict.ofLimits(last.limits());
    String unit = (history.simulated() ? "SIMULATED unit " : "Unit ") + history.unit();
    String run = "run %s (%s)".formatted(last.run().id(), RunDays.inWords(last.run()));
    List<String> work = history.workSince();
    if (!work.isEmpty()) {
      return "%s was repaired after %s and not measured since: %s. How it stands now is not known: measure it. What follows is of before."
          .formatted(unit, run, String.join("; ", work));
    }
    return switch (verdict.word()) {
      case "Pass" -> "%s is within its limits: in %s %s".formatted(unit, run, end(last, verdict));
      case "Fail" ->
          "%s is NOT within its limits: in %s %s".formatted(unit, run, end(last, verdict));
      case "Not judged" -> "%s was measured last in %s; no limit applies.".formatted(unit, run);
      default ->
          "%s is not known to be within its limits: in %s %s"
              .formatted(unit, run, end(last, verdict));
    };
  }

  private static String end(UnitRun last, OverallVerdict verdict) {
    String sentence = lower(verdict.sentence());
    return last.notes().stream()
        .filter(n -> n.contains("flagged"))
        .findFirst()
        .map(n -> "%s Of that run %s.".formatted(sentence, n))
        .orElse(sentence);
  }

  private static String lower(String sentence) {
    return sentence.substring(0, 1).toLowerCase(Locale.ROOT) + sentence.substring(1);
  }

  /** The ranges that are expected to leave a limit, the first to leave first. */
  private static List<RangeHistory> leaving(UnitHistory history) {
    return history.ranges().stream()
        .filter(r -> first(r).isPresent())
        .sorted(Comparator.comparing(r -> first(r).orElseThrow().leaves().orElseThrow()))
        .toList();
  }

  /**
   * The forecast of the limit that is left first.
   *
   * @param range a range
   * @return the forecast; empty if none is expected to be left
   */
  static Optional<Forecast> first(RangeHistory range) {
    return range.forecasts().stream()
        .filter(f -> f.leaves().isPresent())
        .min(Comparator.comparing(f -> f.leaves().orElseThrow()));
  }

  private static String leaves(UnitHistory history, RangeHistory range) {
    Drift drift = range.drift().orElseThrow();
    Forecast f = first(range).orElseThrow();
    LocalDate day = f.leaves().orElseThrow();
    Optional<LocalDate> sooner =
        history.lookAgain().map(LookAgain::by).filter(by -> by.isBefore(day));
    String chance =
        sooner
            .map(by -> " On %s the chance is %s.".formatted(by, percent(1 - f.within(by))))
            .orElse("");
    String far =
        day.isAfter(f.reach())
            ? ", but it lies farther ahead than the visits lie apart: take it for a hint"
            : "";
    String proviso = f.proviso().map(p -> " This is said " + p + ".").orElse("");
    String drifts = "Range %s drifts by %s".formatted(range.range(), drift(drift));
    if (f.computed().within(range.last().day()) < HALF) {
      return "%s and is more likely outside than within its limits already: it %s.%s"
          .formatted(drifts, crosses(f, "rose above ", "fell below "), proviso);
    }
    return "%s and is expected to %s about %s. On that day the chance to be outside is 50 %%%s.%s%s"
        .formatted(drifts, crosses(f, "rise above ", "fall below "), day, far, chance, proviso);
  }

  private static String crosses(Forecast f, String up, String down) {
    double side = f.side().orElseThrow();
    boolean upper = f.limit().upper().isPresent() && f.limit().upper().getAsDouble() == side;
    return (upper ? up : down) + exact(side);
  }

  private static String exact(double ppm) {
    double rounded = NumberText.parse(NumberText.significant(ppm, DIGITS)).orElse(ppm);
    return NumberText.print(rounded) + " " + PPM;
  }

  /** Ranges that have a forecast and are expected to leave nothing. */
  private static List<String> steady(UnitHistory history) {
    return history.ranges().stream()
        .filter(r -> !r.forecasts().isEmpty() && first(r).isEmpty())
        .map(
            r -> {
              Drift d = r.drift().orElseThrow();
              return d.significant()
                  ? "Range %s drifts by %s, towards no limit.".formatted(r.range(), drift(d))
                  : "Range %s shows no drift beyond its uncertainty: %s."
                      .formatted(r.range(), drift(d));
            })
        .toList();
  }

  /** Why ranges have no drift or no forecast, each reason once. */
  private static List<String> silent(UnitHistory history) {
    Map<String, List<String>> reasons = new LinkedHashMap<>();
    for (RangeHistory r : history.ranges()) {
      Optional<String> why =
          r.noDrift()
              .map(w -> "The drift " + w)
              .or(() -> r.noForecast().map(w -> "When a limit is left is not told: " + w));
      why.ifPresent(w -> reasons.computeIfAbsent(w, k -> new ArrayList<>()).add(r.range()));
    }
    return reasons.entrySet().stream()
        .map(e -> "%s (%s).".formatted(e.getKey(), ranges(e.getValue())))
        .toList();
  }

  private static String ranges(List<String> names) {
    return (names.size() == 1 ? "range " : "ranges ") + String.join(", ", names);
  }

  private static String lookAgain(UnitHistory history) {
    return history
        .lookAgain()
        .map(
            l ->
                "Look again by %s: %s%s."
                    .formatted(
                        l.by(),
                        l.why(),
                        l.within().isPresent()
                            ? ". The limits on its current are met on that day with a probability"
                                + " of "
                                + percent(l.within().getAsDouble())
                            : ""))
        .orElse(
            "When to look again is not told: state 'recalibrate' in the datasheet, or measure it"
                + " on three days that lie at least a month apart in all.");
  }

  /**
   * A current error with its uncertainty.
   *
   * @param visit a visit
   * @return such as {@code (9.0 +/- 2.1) ppm}
   */
  public static String stated(Visit visit) {
    double u = visit.uncertainty().map(ComputationOutcome.Uncertainty::expanded).orElse(0.0);
    return ResultFigures.pair(visit.errorPpm(), u, PPM);
  }

  /**
   * The outcome of a run in a word.
   *
   * @param run the run
   * @return such as {@code pass} or {@code left out}
   */
  public static String outcome(UnitRun run) {
    return run.used() ? OverallVerdict.word(run.limits()) : "left out";
  }

  /**
   * A drift with its uncertainty.
   *
   * @param drift the drift
   * @return such as {@code (29.2 +/- 1.8) ppm/year}
   */
  public static String drift(Drift drift) {
    return ResultFigures.pair(drift.ppmPerYear(), drift.uncertainty().expanded(), "ppm/year");
  }

  /**
   * A probability in percent that is never rounded to certainty.
   *
   * @param share 0 to 1
   * @return such as {@code 97 %} or {@code more than 99.9 %}
   */
  static String percent(double share) {
    if (share > NEARLY_SURE) {
      return "more than 99.9 %";
    }
    if (share < 1 - NEARLY_SURE) {
      return "less than 0.1 %";
    }
    boolean near = share > 0.99 || share < 0.01;
    return NumberText.fixed(100 * share, near ? 1 : 0) + " %";
  }

  /**
   * What was done to the unit, which runs are left out, what changed between runs, and which visits
   * do not count for the drift.
   *
   * @param history the history
   * @return whole sentences in the order of time
   */
  public static List<String> remarks(UnitHistory history) {
    List<String> said = new ArrayList<>();
    for (UnitRun run : history.runs()) {
      long id = run.run().id();
      run.workBefore().ifPresent(w -> said.add("Before run %s, a retest: %s.".formatted(id, w)));
      run.leftOut().ifPresent(w -> said.add("Run %s is left out: %s.".formatted(id, w)));
      run.notes().forEach(n -> said.add("Run %s: %s.".formatted(id, n)));
      run.workAfter().forEach(w -> said.add("After run %s, repair: %s.".formatted(id, w.text())));
    }
    said.addAll(apart(history));
    return said;
  }

  private static List<String> apart(UnitHistory history) {
    Map<String, Map<String, String>> reasons = new LinkedHashMap<>();
    for (RangeHistory range : history.ranges()) {
      for (Visit v : range.visits()) {
        v.apart()
            .ifPresent(
                why ->
                    reasons
                        .computeIfAbsent(why, k -> new LinkedHashMap<>())
                        .merge(
                            range.range(),
                            String.valueOf(v.run().run().id()),
                            (a, b) -> a + ", " + b));
      }
    }
    return reasons.entrySet().stream()
        .map(
            e ->
                "Not in the drift (%s): %s."
                    .formatted(
                        e.getKey(),
                        e.getValue().entrySet().stream()
                            .map(r -> "range %s of run %s".formatted(r.getKey(), r.getValue()))
                            .collect(Collectors.joining("; "))))
        .toList();
  }
}
