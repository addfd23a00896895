// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.benches;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.batch.ReferenceUnitControlChart;
import millrace.assessment.benches.BenchHistory.Check;
import millrace.assessment.benches.BenchHistory.Reference;
import millrace.assessment.benches.BenchHistory.Span;
import millrace.assessment.comparison.ComparisonFactor;
import millrace.assessment.comparison.RunGrouping;
import millrace.assessment.comparison.UnitFactors;
import millrace.evidence.Result;
import millrace.evidence.RunOrigin;
import millrace.logbook.JudgedRun;
import millrace.logbook.JudgedRunReader;
import millrace.logbook.Logbook;
import millrace.logbook.ProductionRunPurpose;
import millrace.logbook.RunFilter;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;

/**
 * Reads the checks of benches from a logbook: with their reference units, each judged as in
 * production, and by the check standards of their nights (methods.md 8.3). Simulated runs are left
 * out. Stateless.
 */
public final class BenchHistoryReader {
  private BenchHistoryReader() {}

  /** Checks that are charted together. */
  private record Chart(String bench, String setUp, String reference) {}

  /**
   * Reads the benches.
   *
   * @param book the logbook; only read
   * @return each bench, reference unit and set-up, then each check standard and range of the meter,
   *     in the order of their first checks
   */
  public static List<BenchHistory> of(Logbook book) {
    RunGrouping grouping = new RunGrouping(UnitFactors.NONE);
    Map<Chart, List<JudgedRun>> charts = new LinkedHashMap<>();
    Map<String, List<RunSummary>> units = new LinkedHashMap<>();
    List<RunSummary> runs = new ArrayList<>(book.runs(RunFilter.ALL));
    runs.sort(
        Comparator.comparing((RunSummary r) -> r.start().startedAt())
            .thenComparing(RunSummary::id));
    runs.removeIf(run -> run.start().origin() != RunOrigin.BENCH);
    Map<Long, String> benches = new HashMap<>();
    for (JudgedRun judged : new JudgedRunReader(book).of(runs)) {
      RunSummary run = judged.run();
      Map<ComparisonFactor, String> groups = grouping.of(judged);
      String bench = groups.get(ComparisonFactor.BENCH);
      benches.put(run.id(), bench);
      if (isCheck(run)) {
        Chart chart = new Chart(bench, groups.get(ComparisonFactor.FIXTURE), run.start().unit());
        charts.computeIfAbsent(chart, c -> new ArrayList<>()).add(judged);
      } else {
        units.computeIfAbsent(bench, b -> new ArrayList<>()).add(run);
      }
    }
    List<BenchHistory> histories = new ArrayList<>();
    charts.forEach(
        (chart, checks) ->
            histories.add(
                history(chart, charted(checks), units.getOrDefault(chart.bench(), List.of()))));
    CheckStandardNights nights = new CheckStandardNights(book, runs, benches);
    nights
        .charts()
        .forEach(
            (where, checks) ->
                histories.add(
                    new BenchHistory(
                        where.bench(),
                        where.meterRange(),
                        Reference.CHECK_STANDARD,
                        where.standard(),
                        checks,
                        spans(checks, units.getOrDefault(where.bench(), List.of())))));
    return histories;
  }

  private static boolean isCheck(RunSummary run) {
    return run.start().facts().purpose().equals(Optional.of(ProductionRunPurpose.CHECK));
  }

  private static List<Check> charted(List<JudgedRun> runs) {
    ReferenceUnitControlChart chart = new ReferenceUnitControlChart();
    List<Check> checks = new ArrayList<>();
    for (JudgedRun judged : runs) {
      RunSummary run = judged.run();
      if (run.state() != RunState.COMPLETE) {
        checks.add(
            new Check(
                run,
                List.of("the check did not end: it is " + run.state().text()),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                Optional.empty()));
        continue;
      }
      List<Result> results = judged.results();
      checks.add(
          new Check(
              run,
              chart.findings(results),
              chart.largestShare(results),
              OptionalDouble.empty(),
              Optional.empty()));
      chart.learn(results);
    }
    return checks;
  }

  private static BenchHistory history(Chart chart, List<Check> checks, List<RunSummary> units) {
    return new BenchHistory(
        chart.bench(),
        chart.setUp(),
        Reference.REFERENCE_UNIT,
        chart.reference(),
        checks,
        spans(checks, units));
  }

  private static List<Span> spans(List<Check> checks, List<RunSummary> units) {
    List<Span> spans = new ArrayList<>();
    Optional<Check> lastGood = Optional.empty();
    Optional<Check> firstOut = Optional.empty();
    for (Check check : checks) {
      if (check.out()) {
        firstOut = firstOut.or(() -> Optional.of(check));
      } else if (check.good()) {
        if (firstOut.isPresent()) {
          spans.add(span(lastGood, firstOut.get(), Optional.of(check), units));
        }
        firstOut = Optional.empty();
        lastGood = Optional.of(check);
      }
    }
    if (firstOut.isPresent()) {
      spans.add(span(lastGood, firstOut.get(), Optional.empty(), units));
    }
    return spans;
  }

  private static Span span(
      Optional<Check> lastGood, Check firstOut, Optional<Check> nextGood, List<RunSummary> units) {
    List<RunSummary> recall =
        units.stream()
            .filter(u -> lastGood.isEmpty() || isAfter(u, lastGood.get().run()))
            .filter(u -> nextGood.isEmpty() || isAfter(nextGood.get().run(), u))
            .toList();
    return new Span(lastGood, firstOut, nextGood, recall);
  }

  private static boolean isAfter(RunSummary run, RunSummary other) {
    return run.start().startedAt().isAfter(other.start().startedAt());
  }
}
