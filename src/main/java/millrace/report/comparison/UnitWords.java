// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.function.UnaryOperator;
import millrace.assessment.comparison.ComparedRun;
import millrace.assessment.comparison.Comparison;
import millrace.evidence.Result;
import millrace.quantity.NumberText;
import millrace.report.words.LimitMargin;
import millrace.report.words.MissingMeasurements;
import millrace.report.words.ResultWords;

/** Failed units with their limits, and undecided units with the reason. */
final class UnitWords {
  private final List<ComparedRun> first;

  UnitWords(Comparison comparison) {
    this.first = comparison.runs().stream().filter(ComparedRun::first).toList();
  }

  private List<ComparedRun> judged() {
    return first.stream().filter(r -> r.conformity().isPresent()).toList();
  }

  private long count(Predicate<ComparedRun> which) {
    return first.stream().filter(which).count();
  }

  /** The answer in one line. */
  String headline() {
    int judged = judged().size();
    long failed = count(ComparedRun::failed);
    long open = count(ComparedRun::open);
    if (judged == 0) {
      return "No limits to judge by";
    } else if (failed == 0 && open == 0) {
      return judged == 1 ? "The unit passed" : "All %s units passed".formatted(judged);
    }
    String units = NumberText.counted(judged, "unit");
    String still = open == 0 ? "" : open + " could not be judged in full";
    return failed == 0
        ? "No unit failed, but of %s %s".formatted(units, still)
        : "%s of %s failed%s".formatted(failed, units, open == 0 ? "" : "; " + still);
  }

  /** A failed unit and the limit that it exceeds most. */
  record Failed(ComparedRun run, Result by, int more) {
    /** Such as {@code current error of 1uA: ...}. */
    String words(UnaryOperator<String> set) {
      String margin = LimitMargin.inWords(by);
      return "%s: %s%s%s%s"
          .formatted(
              ResultWords.name(by),
              set.apply(ResultWords.figures(by)),
              margin.isEmpty() ? "" : ", " + margin,
              ResultWords.hopeless(by),
              more > 0 ? "; and by " + NumberText.counted(more, "more limit") : "");
    }
  }

  /** Units that failed their first test, the farthest beyond a limit first. */
  List<Failed> failed() {
    List<Failed> failed = new ArrayList<>();
    for (ComparedRun run : first) {
      List<Result> missed =
          run.results().stream()
              .filter(r -> r.judgement().filter(j -> j.failed()).isPresent())
              .toList();
      LimitMargin.worst(missed, Function.identity())
          .ifPresent(worst -> failed.add(new Failed(run, worst, missed.size() - 1)));
    }
    return LimitMargin.worstFirst(failed, Failed::by);
  }

  /** Missing measurements and the number of units concerned, the most frequent first. */
  List<String> open() {
    Map<String, Integer> units = new LinkedHashMap<>();
    first.forEach(
        run ->
            MissingMeasurements.of(run.results())
                .forEach(why -> units.merge(why, 1, Integer::sum)));
    return units.entrySet().stream()
        .sorted(Map.Entry.<String, Integer>comparingByValue().reversed())
        .map(e -> "%s: %s".formatted(NumberText.counted(e.getValue(), "unit"), e.getKey()))
        .toList();
  }

  /** The unit of a run, with the number of the run. */
  static String named(ComparedRun run) {
    return "%s (run %s)".formatted(run.unit(), run.run().id());
  }
}
