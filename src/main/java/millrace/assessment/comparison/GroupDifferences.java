// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.IntPredicate;
import java.util.stream.IntStream;
import millrace.analysis.batch.BatchMeanAndSpread;
import millrace.analysis.batch.BatchOrderTrend;
import millrace.analysis.batch.TwoBatches;
import millrace.assessment.comparison.Comparison.Contrast;
import millrace.assessment.comparison.Comparison.Drifting;
import millrace.assessment.comparison.Comparison.Group;

/**
 * Compares each group of a factor with all other runs (Welch) and computes the drift of values in
 * the order of time, over all runs and within each group (methods.md 8). If any quantity has a
 * limit, only those with a limit count.
 */
final class GroupDifferences {
  private final List<ComparisonFactor> factors;
  private final double coverage;
  private final List<BatchDistribution> distributions;

  GroupDifferences(
      List<ComparedRun> runs,
      List<BatchDistribution> all,
      List<ComparisonFactor> factors,
      double coverage) {
    this.coverage = coverage;
    this.distributions = BatchDistributions.limitedIfAny(all);
    this.factors = factors.stream().filter(f -> divides(f, runs)).toList();
  }

  /** Whether a factor has several groups at all: most have one, and nothing is done for them. */
  private static boolean divides(ComparisonFactor factor, List<ComparedRun> runs) {
    return runs.stream().map(run -> run.group(factor)).distinct().limit(2).count() > 1;
  }

  List<Contrast> contrasts() {
    List<Contrast> contrasts = new ArrayList<>();
    for (BatchDistribution d : distributions) {
      for (ComparisonFactor factor : factors) {
        contrasts.addAll(contrasts(d, factor));
      }
    }
    return contrasts;
  }

  private List<Contrast> contrasts(BatchDistribution d, ComparisonFactor factor) {
    List<String> of = groups(d, factor);
    Set<String> names = new LinkedHashSet<>(of);
    List<Contrast> contrasts = new ArrayList<>();
    // With two groups one contrast is enough.
    names.stream()
        .sorted()
        .limit(names.size() == 2 ? 1 : names.size() == 1 ? 0 : names.size())
        .forEach(name -> contrast(d, new Group(factor, name), of).ifPresent(contrasts::add));
    return contrasts;
  }

  private static List<String> groups(BatchDistribution d, ComparisonFactor factor) {
    return d.counting().stream().map(e -> e.run().group(factor)).toList();
  }

  private Optional<Contrast> contrast(BatchDistribution d, Group group, List<String> of) {
    double[] mine = values(d, i -> of.get(i).equals(group.name()));
    double[] others = values(d, i -> !of.get(i).equals(group.name()));
    boolean enough =
        mine.length > 1
            && others.length > 1
            && BatchMeanAndSpread.of(mine).sd() + BatchMeanAndSpread.of(others).sd() > 0;
    return enough
        ? Optional.of(
            new Contrast(
                group, d.what(), TwoBatches.of(mine, others, coverage), oneStretch(of, group)))
        : Optional.empty();
  }

  /** Whether all runs of a group are consecutive in time. */
  private static boolean oneStretch(List<String> of, Group group) {
    int first = of.indexOf(group.name());
    int last = of.lastIndexOf(group.name());
    return of.subList(first, last + 1).stream().allMatch(group.name()::equals);
  }

  private static double[] values(BatchDistribution d, IntPredicate which) {
    List<BatchDistribution.Entry> counting = d.counting();
    return IntStream.range(0, counting.size())
        .filter(which)
        .mapToDouble(i -> counting.get(i).value().orElseThrow())
        .toArray();
  }

  /** Over all runs, then group by group. */
  List<Drifting> trends() {
    List<Drifting> trends = new ArrayList<>();
    for (BatchDistribution d : distributions) {
      drifting(d, Optional.empty(), IntStream.range(0, d.counting().size()).toArray())
          .ifPresent(trends::add);
      for (ComparisonFactor factor : factors) {
        List<String> of = groups(d, factor);
        Set<String> names = new LinkedHashSet<>(of);
        if (names.size() > 1) {
          names.forEach(
              name ->
                  drifting(
                          d,
                          Optional.of(new Group(factor, name)),
                          IntStream.range(0, of.size())
                              .filter(i -> of.get(i).equals(name))
                              .toArray())
                      .ifPresent(trends::add));
        }
      }
    }
    return trends;
  }

  private Optional<Drifting> drifting(BatchDistribution d, Optional<Group> group, int[] places) {
    if (places.length < BatchOrderTrend.FEWEST) {
      return Optional.empty();
    }
    List<BatchDistribution.Entry> counting = d.counting();
    double[] at = Arrays.stream(places).asDoubleStream().toArray();
    double[] values =
        Arrays.stream(places).mapToDouble(i -> counting.get(i).value().orElseThrow()).toArray();
    return Optional.of(
        new Drifting(
            d.what(),
            group,
            BatchOrderTrend.of(at, values, coverage),
            counting.get(places[0]).run(),
            counting.get(places[places.length - 1]).run()));
  }
}
