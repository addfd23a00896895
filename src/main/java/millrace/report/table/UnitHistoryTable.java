// SPDX-License-Identifier: Apache-2.0
package millrace.report.table;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import millrace.assessment.history.RangeHistory;
import millrace.assessment.history.RangeHistory.Drift;
import millrace.assessment.history.RangeHistory.Forecast;
import millrace.assessment.history.UnitHistory;
import millrace.assessment.history.UnitRun;
import millrace.report.unit.UnitHistoryWords;
import millrace.report.words.ResultFigures;
import millrace.report.words.RunDays;

/** History of a unit as tables for a terminal. Stateless, thread-safe. */
public final class UnitHistoryTable {
  private static final int WIDEST = 40;
  private static final String PPM = "ppm";

  private UnitHistoryTable() {}

  /**
   * The ranges: where each stands, how it drifts, when it leaves a limit.
   *
   * @param history the history
   * @return lines, each with its line feed; empty without a range
   */
  public static String ranges(UnitHistory history) {
    TextColumns table =
        new TextColumns(
            WIDEST, "range", "current error", "in run", "limit", "drift", "visits", "leaves about");
    for (RangeHistory range : history.ranges()) {
      Optional<Drift> drift = range.drift();
      List<Forecast> forecasts = range.forecasts();
      table.row(
          range.range(),
          UnitHistoryWords.stated(range.last()),
          String.valueOf(range.last().run().run().id()),
          forecasts.stream()
              .map(f -> ResultFigures.limit(f.limit(), PPM))
              .distinct()
              .reduce((a, b) -> a + "; " + b)
              .orElse(""),
          drift.map(UnitHistoryWords::drift).orElse("tells nothing yet"),
          String.valueOf(range.counting().size()),
          leaves(range));
    }
    return table.empty() ? "" : table.text();
  }

  private static String leaves(RangeHistory range) {
    return range.forecasts().stream()
        .flatMap(f -> f.leaves().stream())
        .min(LocalDate::compareTo)
        .map(Object::toString)
        .orElse(range.forecasts().isEmpty() ? "" : "not told");
  }

  /**
   * Every run: when, with what outcome, and the current error of each range.
   *
   * @param history the history
   * @return lines, each with its line feed
   */
  public static String runs(UnitHistory history) {
    List<String> heads = new ArrayList<>(List.of("run", "measured", "outcome"));
    history.ranges().forEach(r -> heads.add(r.range()));
    TextColumns table = new TextColumns(WIDEST, heads.toArray(String[]::new));
    for (UnitRun run : history.runs()) {
      Stream<String> facts =
          Stream.of(
              String.valueOf(run.run().id()),
              RunDays.inWords(run.run()),
              UnitHistoryWords.outcome(run));
      Stream<String> errors = history.ranges().stream().map(r -> error(r, run));
      table.row(Stream.concat(facts, errors).toArray(String[]::new));
    }
    return table.text();
  }

  private static String error(RangeHistory range, UnitRun run) {
    return range.visits().stream()
        .filter(v -> v.run().equals(run))
        .findFirst()
        .map(v -> UnitHistoryWords.stated(v) + (v.counts() ? "" : " *"))
        .orElse("");
  }
}
