// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Predicate;
import java.util.function.UnaryOperator;
import millrace.assessment.comparison.Compared;
import millrace.assessment.comparison.Comparison;
import millrace.evidence.Result;
import millrace.quantity.Numbers;
import millrace.report.words.Margin;
import millrace.report.words.ResultWords;
import millrace.report.words.StillToMeasure;

/** Which units failed and by what, which are open and why. */
final class UnitWords {
  private final List<Compared> first;

  UnitWords(Comparison comparison) {
    this.first = comparison.runs().stream().filter(Compared::first).toList();
  }

  private List<Compared> judged() {
    return first.stream().filter(r -> r.conformity().isPresent()).toList();
  }

  private long count(Predicate<Compared> which) {
    return first.stream().filter(which).count();
  }

  /** The answer in one line. */
  String headline() {
    int judged = judged().size();
    long failed = count(Compared::failed);
    long open = count(Compared::open);
    if (judged == 0) {
      return "No limits to judge by";
    } else if (failed == 0 && open == 0) {
      return judged == 1 ? "The unit passed" : "All %s units passed".formatted(judged);
    }
    String units = Numbers.counted(judged, "unit");
    String still = open == 0 ? "" : open + " could not be judged in full";
    return failed == 0
        ? "No unit failed, but of %s %s".formatted(units, still)
        : "%s of %s failed%s".formatted(failed, units, open == 0 ? "" : "; " + still);
  }

  /** A failed unit and the limit that it misses by most. */
  record Failed(Compared run, Result by, int more) {
    /** Such as {@code current error of 1uA: ...}. */
    String words(UnaryOperator<String> set) {
      String margin = Margin.inWords(by);
      return "%s: %s%s%s"
          .formatted(
              ResultWords.name(by),
              set.apply(ResultWords.figures(by)),
              margin.isEmpty() ? "" : ", " + margin,
              more > 0 ? "; and by " + Numbers.counted(more, "more limit") : "");
    }
  }

  /** The units whose first test failed, those that lie farthest beyond a limit first. */
  List<Failed> failed() {
    List<Failed> failed = new ArrayList<>();
    for (Compared run : first) {
      List<Result> missed =
          run.results().stream()
              .filter(r -> r.judgement().filter(j -> j.failed()).isPresent())
              .sorted(Margin.worstFirst())
              .toList();
      if (!missed.isEmpty()) {
        failed.add(new Failed(run, missed.get(0), missed.size() - 1));
      }
    }
    failed.sort(Comparator.comparing(Failed::by, Margin.worstFirst()));
    return failed;
  }

  /** What would have to be measured, and of how many units, the most frequent first. */
  List<String> open() {
    Map<String, Integer> units = new LinkedHashMap<>();
    first.forEach(
        run -> StillToMeasure.of(run.results()).forEach(why -> units.merge(why, 1, Integer::sum)));
    return units.entrySet().stream()
        .sorted(Map.Entry.<String, Integer>comparingByValue().reversed())
        .map(e -> "%s: %s".formatted(Numbers.counted(e.getValue(), "unit"), e.getKey()))
        .toList();
  }

  /** The unit of a run, with its number. */
  static String named(Compared run) {
    return "%s (run %s)".formatted(run.unit(), run.run().id());
  }
}
