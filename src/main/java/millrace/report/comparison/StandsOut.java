// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.ToDoubleFunction;
import java.util.function.UnaryOperator;
import millrace.assessment.comparison.Compared;
import millrace.assessment.comparison.Comparison;
import millrace.assessment.comparison.Comparison.Contrast;
import millrace.assessment.comparison.Comparison.Drift;
import millrace.assessment.comparison.Distribution;
import millrace.evidence.Limit;
import millrace.evidence.Measurand;
import millrace.evidence.Outcome;
import millrace.evidence.Result;
import millrace.quantity.Numbers;
import millrace.report.words.Margin;
import millrace.report.words.ResultWords;

/** What a reader of a comparison must see first: what failed, then what stands out. */
final class StandsOut {
  private static final int MOST = 5;
  private static final int MOST_UNITS = 10;

  /** Differences of batches below this share of the limit stay in the table alone. */
  private static final double LEAST_SHARE = 0.01;

  private final Comparison comparison;
  private final UnaryOperator<String> set;

  private StandsOut(Comparison comparison, UnaryOperator<String> set) {
    this.comparison = comparison;
    this.set = set;
  }

  /**
   * A sentence for each that stands out, the farthest first; none where all is as usual.
   *
   * @param set in which letters units are written
   */
  static List<String> sentences(Comparison comparison, UnaryOperator<String> set) {
    StandsOut out = new StandsOut(comparison, set);
    List<String> sentences = new ArrayList<>(out.failed());
    GaugeVerdict.sentence(comparison, set).ifPresent(sentences::add);
    sentences.addAll(out.batches());
    sentences.addAll(out.moved());
    sentences.addAll(out.outliers());
    return sentences;
  }

  /** The units whose first test failed, those that lie farthest beyond a limit first. */
  private List<String> failed() {
    Map<Compared, Result> worst = new LinkedHashMap<>();
    for (Compared run : comparison.runs()) {
      run.results().stream()
          .filter(r -> run.first() && r.judgement().filter(j -> j.failed()).isPresent())
          .min(Margin.worstFirst())
          .ifPresent(r -> worst.put(run, r));
    }
    List<String> sentences = new ArrayList<>();
    worst.entrySet().stream()
        .sorted(Map.Entry.comparingByValue(Margin.worstFirst()))
        .limit(MOST)
        .forEach(e -> sentences.add(failed(e.getKey(), e.getValue())));
    if (worst.size() > MOST) {
      sentences.add((worst.size() - MOST) + " more units failed.");
    }
    return sentences;
  }

  private String failed(Compared run, Result by) {
    String margin = Margin.inWords(by);
    long others =
        run.results().stream()
                .filter(r -> r.judgement().filter(j -> j.failed()).isPresent())
                .count()
            - 1;
    return "Unit %s failed (run %s) by %s: %s%s."
        .formatted(
            run.unit(),
            run.run().id(),
            ResultWords.name(by),
            set.apply(ResultWords.figures(by)),
            (margin.isEmpty() ? "" : ", " + margin)
                + (others > 0 ? "; and by " + Numbers.counted(others, "more limit") : ""));
  }

  /**
   * Whether a batch differs from the others, by a risk that is shared among all contrasts
   * (Bonferroni): chance alone gives none in as many comparisons as the coverage says.
   */
  static boolean differs(Contrast contrast, Comparison in) {
    double risk = (1 - in.coverage()) / in.contrasts().size();
    return contrast.comparison().probability() < risk;
  }

  /** The contrasts, the least likely by chance first. */
  static List<Contrast> likeliestFirst(Comparison comparison) {
    return comparison.contrasts().stream()
        .sorted(Comparator.comparingDouble(k -> k.comparison().probability()))
        .toList();
  }

  private List<String> batches() {
    Map<String, List<Contrast>> byBatch = new LinkedHashMap<>();
    ToDoubleFunction<Contrast> share = k -> share(k.comparison().difference(), k.what());
    comparison.contrasts().stream()
        .filter(k -> differs(k, comparison) && share.applyAsDouble(k) >= LEAST_SHARE)
        .sorted(Comparator.comparingDouble(share).reversed())
        .forEach(k -> byBatch.computeIfAbsent(k.batch(), b -> new ArrayList<>()).add(k));
    return byBatch.values().stream().limit(MOST).map(this::batch).toList();
  }

  private String batch(List<Contrast> differing) {
    Contrast most = differing.get(0);
    return "Batch %s differs from the others in %s, most against its limit in %s: by %s."
        .formatted(
            most.batch(),
            counted(differing.size()),
            MeasurandWords.name(most.what(), set),
            set.apply(ComparisonWords.difference(most)));
  }

  private static String counted(int n) {
    return n == 1 ? "1 quantity" : n + " quantities";
  }

  /** A difference over the size of its limit; 0 where there is none. */
  private double share(double difference, Measurand what) {
    return comparison.distributions().stream()
        .filter(d -> d.what().equals(what))
        .flatMap(d -> d.limit().stream())
        .mapToDouble(l -> Math.abs(difference) / size(l))
        .findFirst()
        .orElse(0);
  }

  private static double size(Limit limit) {
    double size = Math.max(Math.abs(limit.lower().orElse(0)), Math.abs(limit.upper().orElse(0)));
    return size == 0 ? 1 : size;
  }

  private List<String> moved() {
    Map<String, List<Drift>> byUnit = new LinkedHashMap<>();
    comparison.drifts().stream()
        .filter(d -> d.change().significant())
        .sorted(Comparator.comparingDouble(StandsOut::ratio).reversed())
        .forEach(d -> byUnit.computeIfAbsent(d.later().unit(), u -> new ArrayList<>()).add(d));
    return byUnit.values().stream().limit(MOST).map(this::moved).toList();
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
        .map(Outcome.Uncertainty::expanded)
        .map(u -> Math.abs(drift.change().value()) / u)
        .orElse(0.0);
  }

  private List<String> outliers() {
    Set<String> units = new LinkedHashSet<>();
    for (Distribution d : comparison.distributions()) {
      List<Long> runs = d.statistics().map(Distribution.Statistics::outliers).orElse(List.of());
      d.entries().stream()
          .filter(e -> d.limit().isPresent() && runs.contains(e.run().run().id()))
          .forEach(e -> units.add(e.run().unit()));
    }
    if (units.isEmpty()) {
      return List.of();
    }
    String more =
        units.size() > MOST_UNITS ? " and %s more".formatted(units.size() - MOST_UNITS) : "";
    String names = String.join(", ", units.stream().limit(MOST_UNITS).toList());
    return List.of(
        "Outliers in %s: %s%s.".formatted(Numbers.counted(units.size(), "unit"), names, more));
  }
}
