// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import millrace.analysis.batch.GaugeIntervals;
import millrace.analysis.batch.GaugeStudy;
import millrace.assessment.comparison.Comparison.Gauge;
import millrace.evidence.Measurand;

/**
 * The crossed gauge study, from runs of the sequence of that name: each unit equally often with
 * each operator, or on each bench if there is one operator only (methods.md 8).
 */
final class GaugeStudyOfRuns {
  /** The name of the sequence. */
  static final String TITLE = "gauge study";

  private final double coverage;
  private final Map<String, List<Measurand>> unbalanced = new LinkedHashMap<>();

  GaugeStudyOfRuns(double coverage) {
    this.coverage = coverage;
  }

  /** Notes on measured quantities without a study, one per reason. */
  List<String> notes() {
    return unbalanced.entrySet().stream().map(e -> note(e.getKey(), e.getValue())).toList();
  }

  private static String note(String reason, List<Measurand> of) {
    Measurand first = of.get(0);
    String name = first.quantity().inWords() + first.range().map(r -> " of " + r).orElse("");
    String more = of.size() == 1 ? "" : " and %s more".formatted(of.size() - 1);
    return "no gauge study of %s%s: %s".formatted(name, more, reason);
  }

  List<Gauge> of(List<ComparedRun> runs) {
    List<ComparedRun> mine =
        runs.stream().filter(r -> r.run().start().title().equals(TITLE)).toList();
    if (mine.isEmpty()) {
      return List.of();
    }
    boolean operators = mine.stream().map(GaugeStudyOfRuns::operator).distinct().count() > 1;
    ComparisonFactor across = operators ? ComparisonFactor.OPERATOR : ComparisonFactor.BENCH;
    Function<ComparedRun, String> group =
        operators ? GaugeStudyOfRuns::operator : r -> r.group(across);
    // Every run counts here: the study needs the repeats.
    List<BatchDistribution> all = BatchDistributions.of(mine, coverage, new ToleranceFactors());
    return BatchDistributions.limitedIfAny(all).stream()
        .flatMap(d -> study(d, across, group).stream())
        .toList();
  }

  /** Quantities that were not measured are outside this study. */
  private Optional<Gauge> study(
      BatchDistribution d, ComparisonFactor across, Function<ComparedRun, String> group) {
    List<GaugeStudy.Trial> trials =
        d.entries().stream()
            .filter(e -> e.value().isPresent())
            .map(
                e ->
                    new GaugeStudy.Trial(
                        e.run().unit(), group.apply(e.run()), e.value().orElseThrow()))
            .toList();
    if (trials.isEmpty()) {
      return Optional.empty();
    }
    try {
      GaugeStudy study = GaugeStudy.of(trials);
      Optional<GaugeIntervals> intervals =
          study.components().gauge() > 0
              ? Optional.of(GaugeIntervals.of(study, coverage))
              : Optional.empty();
      return Optional.of(new Gauge(d.what(), study, d.limit(), across, intervals));
    } catch (IllegalArgumentException e) {
      unbalanced.computeIfAbsent(e.getMessage(), m -> new ArrayList<>()).add(d.what());
      return Optional.empty();
    }
  }

  private static String operator(ComparedRun run) {
    return run.run().start().people().operator().orElse("nobody named");
  }
}
