// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.UnaryOperator;
import millrace.assessment.comparison.BatchDistribution;
import millrace.assessment.comparison.Comparison;
import millrace.assessment.comparison.Comparison.Drift;
import millrace.evidence.ComputationOutcome;
import millrace.quantity.NumberText;

/**
 * Highlights of a comparison in the order of importance: failed units and their limits, drift and
 * differences, capability with its caveats, and what to do.
 */
final class ComparisonHighlights {
  private static final int MOST = 5;
  private static final int MOST_OPEN = 3;
  private static final int MOST_UNITS = 10;

  private final Comparison comparison;
  private final UnaryOperator<String> set;

  private ComparisonHighlights(Comparison comparison, UnaryOperator<String> set) {
    this.comparison = comparison;
    this.set = set;
  }

  /**
   * A sentence for each highlight, the largest first. A sentence with leading spaces continues the
   * one before.
   *
   * @param set typesetting of units
   */
  static List<String> sentences(Comparison comparison, UnaryOperator<String> set) {
    ComparisonHighlights out = new ComparisonHighlights(comparison, set);
    UnitWords units = new UnitWords(comparison);
    DriftWords drift = new DriftWords(comparison, set);
    List<String> sentences = new ArrayList<>();
    GaugeVerdict.sentence(comparison, set).ifPresent(sentences::add);
    sentences.addAll(out.failed(units));
    sentences.addAll(out.open(units));
    sentences.addAll(drift.drifts());
    sentences.addAll(drift.groups());
    if (comparison.gauges().isEmpty()) {
      sentences.addAll(out.moved());
      sentences.addAll(out.outliers());
      CapabilityWords.sentence(comparison, set).ifPresent(sentences::add);
    }
    sentences.addAll(out.next(units, drift));
    return sentences;
  }

  /** The answer in one line: for a gauge study about the bench, else about the units. */
  static String headline(Comparison comparison) {
    return GaugeVerdict.headline(comparison).orElseGet(() -> new UnitWords(comparison).headline());
  }

  private List<String> failed(UnitWords units) {
    List<UnitWords.Failed> failed = units.failed();
    List<String> sentences = new ArrayList<>();
    failed.stream()
        .limit(MOST)
        .map(
            f ->
                "Unit %s failed (run %s) by %s."
                    .formatted(f.run().unit(), f.run().run().id(), f.words(set)))
        .forEach(sentences::add);
    if (failed.size() > MOST) {
      List<String> more =
          failed.stream().skip(MOST).limit(MOST_UNITS).map(f -> UnitWords.named(f.run())).toList();
      int rest = failed.size() - MOST - more.size();
      sentences.add(
          "Failed, too: %s%s."
              .formatted(String.join(", ", more), rest > 0 ? " and %s more".formatted(rest) : ""));
    }
    return sentences;
  }

  private List<String> open(UnitWords units) {
    List<String> open = units.open();
    List<String> sentences = new ArrayList<>();
    if (!open.isEmpty()) {
      sentences.add("Not evaluated, and what would have to be measured:");
      open.stream().limit(MOST_OPEN).forEach(o -> sentences.add("  " + o));
      if (open.size() > MOST_OPEN) {
        sentences.add("  and %s more".formatted(open.size() - MOST_OPEN));
      }
    }
    return sentences;
  }

  /** The contrasts, in rising order of the probability of chance. */
  static List<Comparison.Contrast> likeliestFirst(Comparison comparison) {
    return comparison.contrasts().stream()
        .sorted(Comparator.comparingDouble(k -> k.comparison().probability()))
        .toList();
  }

  private List<String> moved() {
    Map<String, List<Drift>> byUnit = new LinkedHashMap<>();
    comparison.drifts().stream()
        .sorted(Comparator.comparingDouble(ComparisonHighlights::ratio).reversed())
        .forEach(d -> byUnit.computeIfAbsent(d.later().unit(), u -> new ArrayList<>()).add(d));
    List<String> sentences = new ArrayList<>();
    byUnit.values().stream()
        .map(all -> all.stream().filter(d -> d.change().significant()).toList())
        .filter(moved -> !moved.isEmpty())
        .limit(MOST)
        .forEach(moved -> sentences.add(moved(moved)));
    byUnit.forEach(
        (unit, all) -> {
          if (all.stream().noneMatch(d -> d.change().significant()) && sentences.size() < MOST) {
            sentences.add(stayed(all.get(0), all.size()));
          }
        });
    return sentences;
  }

  private static String stayed(Drift any, int quantities) {
    return "Unit %s stayed as it was from run %s to run %s: none of %s quantities changed by more than its U."
        .formatted(
            any.later().unit(), any.earlier().run().id(), any.later().run().id(), quantities);
  }

  private String moved(List<Drift> drifts) {
    Drift most = drifts.get(0);
    long of =
        comparison.drifts().stream()
            .filter(d -> d.later().unit().equals(most.later().unit()))
            .count();
    return "Unit %s moved from run %s to run %s in %s of %s quantities, most surely in %s: by %s."
        .formatted(
            most.later().unit(),
            most.earlier().run().id(),
            most.later().run().id(),
            drifts.size(),
            of,
            MeasurandWords.name(most.what(), set),
            set.apply(ComparisonWords.change(most)));
  }

  private static double ratio(Drift drift) {
    return drift
        .change()
        .uncertainty()
        .map(ComputationOutcome.Uncertainty::expanded)
        .map(u -> Math.abs(drift.change().value()) / u)
        .orElse(0.0);
  }

  private List<String> outliers() {
    Set<String> units = new LinkedHashSet<>();
    for (BatchDistribution d : CapabilityWords.limited(comparison)) {
      List<Long> runs =
          d.statistics().map(BatchDistribution.Statistics::outliers).orElse(List.of());
      d.counting().stream()
          .filter(e -> runs.contains(e.run().run().id()))
          .forEach(e -> units.add(e.run().unit()));
    }
    if (units.isEmpty()) {
      return List.of();
    }
    String more =
        units.size() > MOST_UNITS ? " and %s more".formatted(units.size() - MOST_UNITS) : "";
    String names = String.join(", ", units.stream().limit(MOST_UNITS).toList());
    return List.of(
        "Far from the others (outliers): %s, %s%s."
            .formatted(NumberText.counted(units.size(), "unit"), names, more));
  }

  private List<String> next(UnitWords units, DriftWords drift) {
    List<String> todo = new ArrayList<>();
    boolean failed = !units.failed().isEmpty();
    if (failed && comparison.causes().isEmpty()) {
      todo.add("say --causes for the part to look at in each unit that failed");
    }
    if (!drift.drifting().isEmpty()) {
      todo.add(
          "measure a reference unit again: 'millrace compare --unit SN' tells whether the bench"
              + " drifts or the units do");
    }
    return todo.isEmpty() ? List.of() : List.of("Next: " + String.join("; ", todo) + ".");
  }
}
