// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.UnaryOperator;
import millrace.analysis.batch.Interval;
import millrace.assessment.comparison.Comparison;
import millrace.assessment.comparison.Comparison.Contrast;
import millrace.assessment.comparison.Comparison.Drifting;
import millrace.assessment.comparison.Comparison.Group;
import millrace.assessment.comparison.ComparisonFactor;
import millrace.evidence.Measurand;
import millrace.evidence.ResultQuantity;
import millrace.quantity.NumberText;
import millrace.report.words.ResultFigures;

/**
 * Drift from unit to unit, and differences of benches, batches, operators or fixtures, in words.
 */
final class DriftWords {
  private static final int MOST = 4;

  private final Comparison comparison;
  private final UnaryOperator<String> set;

  DriftWords(Comparison comparison, UnaryOperator<String> set) {
    this.comparison = comparison;
    this.set = set;
  }

  /** The drifts, in falling order of their share of the limit. */
  List<Drifting> drifting() {
    return comparison.trends().stream()
        .filter(t -> comparison.drifts(t) && share(t) >= DifferenceToLimitShare.LEAST)
        .sorted(
            Comparator.comparing((Drifting t) -> t.group().isPresent())
                .thenComparing(Comparator.comparingDouble((Drifting t) -> -share(t))))
        .toList();
  }

  private double share(Drifting t) {
    return DifferenceToLimitShare.of(t.trend().change(), t.what(), comparison);
  }

  /** One sentence for each drifting quantity, with its trend in each group. */
  List<String> drifts() {
    Map<ResultQuantity, List<Drifting>> by = new LinkedHashMap<>();
    drifting().forEach(t -> by.computeIfAbsent(t.what().quantity(), q -> new ArrayList<>()).add(t));
    List<String> sentences = new ArrayList<>();
    for (List<Drifting> alike : by.values()) {
      Drifting most = alike.get(0);
      List<Drifting> whole = alike.stream().filter(t -> t.group().isEmpty()).toList();
      sentences.add("Drift: %s.%s".formatted(drift(most), others(whole)));
      String groups = groupByGroup(most);
      if (!groups.isEmpty()) {
        sentences.add("  " + groups);
      }
    }
    return sentences;
  }

  private String drift(Drifting t) {
    double change = t.trend().change();
    return "%s%s %s by %s over %s, from run %s (%s) to run %s (%s): %s of its limit"
        .formatted(
            t.group().map(g -> "on " + named(g) + " ").orElse(""),
            MeasurandWords.name(t.what(), set) + (MeasurandWords.at(t.what()).isEmpty() ? "" : ","),
            change < 0 ? "falls" : "rises",
            set.apply(size(t)),
            NumberText.counted(t.trend().n(), "unit"),
            t.first().run().id(),
            t.first().unit(),
            t.last().run().id(),
            t.last().unit(),
            NumberText.significant(100 * share(t), 2) + " %");
  }

  private static String others(List<Drifting> alike) {
    int more = alike.size() - 1;
    return more < 1
        ? ""
        : more == 1 ? " So does 1 more range." : " So do %s more ranges.".formatted(more);
  }

  /** The change and half the width of its interval, without a sign. */
  private static String size(Drifting t) {
    return figures(Math.abs(t.trend().change()), t.trend().interval(), t.what());
  }

  static String signed(Drifting t) {
    return figures(t.trend().change(), t.trend().interval(), t.what());
  }

  private static String figures(double change, Interval i, Measurand what) {
    return ResultFigures.pair(change, (i.upper() - i.lower()) / 2, what.quantity().unit());
  }

  /** The trend of the same quantity within each group, over the units of that group. */
  private String groupByGroup(Drifting most) {
    Map<ComparisonFactor, List<Drifting>> by = new LinkedHashMap<>();
    comparison.trends().stream()
        .filter(t -> t.what().equals(most.what()))
        .forEach(
            t ->
                t.group()
                    .ifPresent(g -> by.computeIfAbsent(g.factor(), f -> new ArrayList<>()).add(t)));
    List<String> words = new ArrayList<>();
    by.forEach((factor, each) -> words.add(eachOf(factor, each)));
    return words.isEmpty() ? "" : "Within each " + String.join("; within each ", words) + ".";
  }

  private String eachOf(ComparisonFactor factor, List<Drifting> each) {
    List<String> names =
        each.stream()
            .sorted(Comparator.comparingDouble((Drifting t) -> -share(t)))
            .limit(MOST)
            .map(t -> t.group().orElseThrow().name() + " " + set.apply(signed(t)))
            .toList();
    int more = each.size() - names.size();
    return factor.text()
        + ": "
        + String.join(", ", names)
        + (more > 0 ? ", " + more + " more" : "");
  }

  /** Such as {@code batch B7}. */
  static String named(Group group) {
    return group.name().isEmpty()
        ? "no " + group.factor().text()
        : group.factor().text() + " " + group.name();
  }

  /** One sentence for each group that differs from all others, the largest difference first. */
  List<String> groups() {
    Map<Group, List<Contrast>> by = new LinkedHashMap<>();
    differing().forEach(k -> by.computeIfAbsent(k.group(), g -> new ArrayList<>()).add(k));
    List<String> sentences =
        new ArrayList<>(by.values().stream().limit(MOST).map(this::group).toList());
    if (by.size() > MOST) {
      sentences.add("So do %s more.".formatted(by.size() - MOST));
    }
    return sentences;
  }

  /** Contrasts that are significant and large against the limit, the largest first. */
  List<Contrast> differing() {
    return comparison.contrasts().stream()
        .filter(k -> comparison.differs(k) && share(k) >= DifferenceToLimitShare.LEAST)
        .sorted(Comparator.comparingDouble((Contrast k) -> -share(k)))
        .toList();
  }

  private double share(Contrast k) {
    return DifferenceToLimitShare.of(k.comparison().difference(), k.what(), comparison);
  }

  private String group(List<Contrast> differing) {
    Contrast most = differing.get(0);
    String name = named(most.group());
    return "%s differs from the others in %s, most against its limit in %s: by %s.%s"
        .formatted(
            name.substring(0, 1).toUpperCase(Locale.ROOT) + name.substring(1),
            quantities(differing.size()),
            MeasurandWords.name(most.what(), set),
            set.apply(ComparisonWords.difference(most)),
            orDrift(most));
  }

  private static String quantities(int n) {
    return n == 1 ? "1 quantity" : n + " quantities";
  }

  /**
   * A caveat for successive groups: a difference between them cannot be separated from drift in
   * time.
   */
  private String orDrift(Contrast most) {
    Optional<Drifting> same =
        drifting().stream()
            .filter(t -> t.group().isEmpty() && t.what().equals(most.what()))
            .findFirst();
    return most.inOneStretch() && same.isPresent()
        ? " Its units came one behind the other: it may be the drift."
        : "";
  }
}
