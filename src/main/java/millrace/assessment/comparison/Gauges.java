// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import millrace.analysis.batch.GaugeStudy;
import millrace.assessment.comparison.Comparison.Gauge;

/**
 * The crossed gauge study, from runs of the sequence of that name: each unit equally often with
 * each operator, or on each bench where there is one operator only (methods.md 8).
 */
final class Gauges {
  /** What the sequence calls itself. */
  static final String TITLE = "gauge study";

  private final List<String> notes = new ArrayList<>();

  List<String> notes() {
    return notes;
  }

  List<Gauge> of(List<Compared> runs, Function<Compared, String> bench) {
    List<Compared> mine = runs.stream().filter(r -> r.run().start().title().equals(TITLE)).toList();
    if (mine.isEmpty()) {
      return List.of();
    }
    boolean operators = mine.stream().map(Gauges::operator).distinct().count() > 1;
    Function<Compared, String> across = operators ? Gauges::operator : bench;
    // Every run counts here: repeats are what the study is about.
    List<Gauge> gauges = new ArrayList<>();
    for (Distribution d : Distributions.of(mine, 0.95)) {
      List<GaugeStudy.Trial> trials =
          d.entries().stream()
              .filter(e -> e.value().isPresent())
              .map(
                  e ->
                      new GaugeStudy.Trial(
                          e.run().unit(), across.apply(e.run()), e.value().orElseThrow()))
              .toList();
      try {
        gauges.add(
            new Gauge(
                d.what(), GaugeStudy.of(trials), d.limit(), operators ? "operators" : "benches"));
      } catch (IllegalArgumentException e) {
        notes.add(
            "no gauge study of %s%s: %s"
                .formatted(
                    d.what().quantity().inWords(),
                    d.what().range().map(r -> " of " + r).orElse(""),
                    e.getMessage()));
      }
    }
    return gauges;
  }

  private static String operator(Compared run) {
    return run.run().start().people().operator().orElse("nobody named");
  }
}
