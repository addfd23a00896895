// SPDX-License-Identifier: Apache-2.0
package millrace.planning.cause;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.ToDoubleFunction;
import millrace.analysis.causes.CauseStudy;
import millrace.analysis.causes.FurtherMeasurement;
import millrace.time.Seeds;

/**
 * Searches for the cheapest measurements that separate the causes which a run does not separate
 * (methods.md 12): every set of up to four is ranked by the number of pairs of causes that it
 * separates, then by its time; the best sets are tried on drawn cases, and the first set that names
 * the right cause often enough is taken.
 */
public final class CauseSearch {
  /** Larger sets are not examined. */
  private static final int MOST = 4;

  /** The number of sets tried on drawn cases. */
  private static final int TRIED = 5;

  /**
   * The number of cases for each cause in the search; then the number of all cases for the final
   * gain.
   */
  private static final int FEW = 3;

  private static final int CASES = 40;
  private static final double OFTEN = 0.9;

  private final CauseStudy study;
  private final CauseScope scope;
  private final String title;
  private final ToDoubleFunction<String> seconds;

  /**
   * Creates a search.
   *
   * @param study the study of the diagnosis
   * @param scope the possible measurements
   * @param title the title of the sequence
   * @param seconds the time of a sequence, s, by its text
   */
  public CauseSearch(
      CauseStudy study, CauseScope scope, String title, ToDoubleFunction<String> seconds) {
    this.study = study;
    this.scope = scope;
    this.title = title;
    this.seconds = seconds;
  }

  /** A possible measurement with the pairs that it separates and its time. */
  private record Option(FurtherMeasurement what, Set<Integer> pairs, double seconds) {}

  /** A set of them. */
  private record Bundle(List<Option> options) {
    Set<Integer> pairs() {
      Set<Integer> pairs = new LinkedHashSet<>();
      options.forEach(o -> pairs.addAll(o.pairs()));
      return pairs;
    }

    double seconds() {
      return options.stream().mapToDouble(Option::seconds).sum();
    }

    List<FurtherMeasurement> what() {
      return options.stream().map(Option::what).toList();
    }
  }

  /**
   * Searches.
   *
   * @param seeds the seeds of the drawn cases
   * @return the plan
   */
  public CausePlan plan(Seeds seeds) {
    List<String> beyond = new ArrayList<>();
    List<Option> options = options(beyond);
    return new CausePlan(
        study.diagnosis(),
        study.identified(),
        study.rivals(),
        chosen(options, seeds),
        options.stream()
            .map(o -> new CausePlan.Alone(o.what().words(), o.seconds(), o.pairs().size(), all()))
            .toList(),
        beyond);
  }

  private int all() {
    return study.openPairs();
  }

  private List<Option> options(List<String> beyond) {
    double nothing = seconds.applyAsDouble(text(List.of()));
    List<Option> options = new ArrayList<>();
    for (Map.Entry<FurtherMeasurement, Set<Integer>> e : study.separating().entrySet()) {
      Optional<FurtherMeasurement> feasible = scope.feasible(e.getKey());
      if (feasible.isEmpty()) {
        beyond.add(e.getKey().words());
      } else {
        double own = seconds.applyAsDouble(text(List.of(feasible.get()))) - nothing;
        options.add(new Option(feasible.get(), e.getValue(), own));
      }
    }
    options.sort(Comparator.comparingDouble(Option::seconds));
    return options;
  }

  /** Adds a current that is known already: it shows whether the unit has changed. */
  private String text(List<FurtherMeasurement> what) {
    List<FurtherMeasurement> all = new ArrayList<>();
    scope.again(this::isKnown).ifPresent(all::add);
    all.addAll(what);
    return CauseSequence.of(title, study.rivals(), scope, all);
  }

  private boolean isKnown(String range) {
    return study.diagnosis().explained().stream().anyMatch(e -> e.range().equals(range));
  }

  private Optional<CausePlan.Chosen> chosen(List<Option> options, Seeds seeds) {
    Optional<Bundle> best = Optional.empty();
    double bestShare = -1;
    for (Bundle bundle : bundles(options).stream().limit(TRIED).toList()) {
      double share =
          bestShare < OFTEN ? study.gain(bundle.what(), FEW, seeds.stream("few")).share() : 0;
      if (share > bestShare) {
        bestShare = share;
        best = Optional.of(bundle);
      }
    }
    return best.map(b -> chosen(b, seeds));
  }

  private CausePlan.Chosen chosen(Bundle bundle, Seeds seeds) {
    String text = text(bundle.what());
    int each = Math.max(FEW, CASES / Math.max(1, study.rivals().size()));
    List<String> together = new ArrayList<>();
    Set<Integer> pairs = bundle.pairs();
    for (int i = 0; i < all(); i++) {
      if (!pairs.contains(i)) {
        together.add(study.pair(i));
      }
    }
    return new CausePlan.Chosen(
        bundle.what(),
        text,
        seconds.applyAsDouble(text),
        study.gain(bundle.what(), each, seeds.stream("cases")),
        together);
  }

  /**
   * The sets that separate the most pairs, the shortest first; each of their measurements
   * contributes.
   */
  private List<Bundle> bundles(List<Option> options) {
    List<Bundle> bundles = new ArrayList<>();
    List<Bundle> grown = List.of(new Bundle(List.of()));
    for (int size = 1; size <= MOST; size++) {
      List<Bundle> larger = new ArrayList<>();
      for (Bundle bundle : grown) {
        int from =
            bundle.options().isEmpty()
                ? 0
                : options.indexOf(bundle.options().get(bundle.options().size() - 1)) + 1;
        for (Option more : options.subList(from, options.size())) {
          with(bundle, more).ifPresent(larger::add);
        }
      }
      bundles.addAll(larger);
      grown = larger;
    }
    bundles.sort(
        Comparator.<Bundle>comparingInt(b -> -b.pairs().size())
            .thenComparingDouble(Bundle::seconds)
            .thenComparingInt(b -> b.options().size()));
    return bundles;
  }

  private static Optional<Bundle> with(Bundle bundle, Option more) {
    if (bundle.pairs().containsAll(more.pairs())) {
      return Optional.empty();
    }
    List<Option> options = new ArrayList<>(bundle.options());
    options.add(more);
    return Optional.of(new Bundle(options));
  }
}
