// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.IntFunction;
import millrace.assessment.basis.JudgementBasis;
import millrace.assessment.range.RangeAssessor;
import millrace.assessment.range.RangePairResults;
import millrace.assessment.range.RangeTemperatureStudy;
import millrace.assessment.reduction.ReducedPoint;
import millrace.evidence.Result;

/**
 * The ranges of a run computed again from points of a trial, and from the same points each pair of
 * neighbouring ranges, so that what both share cancels in every trial too. Thread-safe.
 */
final class RangeTrials implements MonteCarloResultCheck.Again {
  private final List<String> names;
  private final List<RangeAssessor> ranges;
  private final List<int[]> pairs = new ArrayList<>();
  private final RangePairResults ofPairs;

  /**
   * The ranges as they were measured.
   *
   * @param measured by name, in their order
   * @param basis of the judgement
   * @param points of the run
   */
  RangeTrials(
      Map<String, RangeAssessor> measured, JudgementBasis basis, List<ReducedPoint> points) {
    this.names = List.copyOf(measured.keySet());
    this.ranges = List.copyOf(measured.values());
    this.ofPairs = new RangePairResults(basis, points);
    int before = -1;
    for (int i = 0; i < ranges.size(); i++) {
      if (ranges.get(i).temperatures().isPresent()) {
        if (before >= 0) {
          pairs.add(new int[] {before, i});
        }
        before = i;
      }
    }
  }

  /** The points, a group for each range. */
  List<List<ReducedPoint>> points() {
    return ranges.stream().map(RangeAssessor::all).toList();
  }

  /** The measured results: a group for each range as given, then one for each pair. */
  List<List<Result>> measured(Map<String, List<Result>> ofRanges) {
    List<List<Result>> all = new ArrayList<>();
    names.forEach(n -> all.add(ofRanges.get(n)));
    List<Optional<RangeTemperatureStudy>> studies =
        ranges.stream().map(RangeAssessor::temperatures).toList();
    pairs.forEach(p -> all.add(pair(studies, p)));
    return all;
  }

  /** Groups of results by range. */
  Map<String, List<Result>> byRange(List<List<Result>> groups) {
    Map<String, List<Result>> byRange = new LinkedHashMap<>();
    names.forEach(n -> byRange.put(n, groups.get(byRange.size())));
    return byRange;
  }

  /** The results of pairs among the groups. */
  List<Result> ofPairs(List<List<Result>> groups) {
    return groups.subList(names.size(), groups.size()).stream().flatMap(List::stream).toList();
  }

  @Override
  public List<List<Result>> of(IntFunction<List<ReducedPoint>> moved, boolean[][] over) {
    int n = ranges.size();
    boolean[] paired = new boolean[n];
    for (int k = 0; k < pairs.size(); k++) {
      for (int i : pairs.get(k)) {
        paired[i] |= !all(over[n + k]);
      }
    }
    List<List<Result>> groups = new ArrayList<>();
    List<Optional<RangeTemperatureStudy>> studies = new ArrayList<>();
    for (int i = 0; i < n; i++) {
      Optional<RangeAssessor> now =
          paired[i] || !all(over[i])
              ? Optional.of(ranges.get(i).again(moved.apply(i), paired[i], over[i]))
              : Optional.empty();
      groups.add(now.map(RangeAssessor::results).orElse(List.of()));
      studies.add(now.flatMap(RangeAssessor::temperatures));
    }
    for (int k = 0; k < pairs.size(); k++) {
      groups.add(all(over[n + k]) ? List.of() : pair(studies, pairs.get(k)));
    }
    return groups;
  }

  private static boolean all(boolean... each) {
    for (boolean one : each) {
      if (!one) {
        return false;
      }
    }
    return true;
  }

  private List<Result> pair(List<Optional<RangeTemperatureStudy>> studies, int[] pair) {
    Optional<RangeTemperatureStudy> a = studies.get(pair[0]);
    Optional<RangeTemperatureStudy> b = studies.get(pair[1]);
    return a.isPresent() && b.isPresent() ? ofPairs.of(List.of(a.get(), b.get())) : List.of();
  }
}
