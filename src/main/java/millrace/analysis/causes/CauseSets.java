// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** Puts causes that explain the same into sets (methods.md 9). */
final class CauseSets {
  private final CauseModelSelection selection;
  private final DiscriminatingMeasurement separation;
  private final double k;

  /**
   * The sets of a selection.
   *
   * @param selection causes with their probabilities
   * @param separation what would separate them
   * @param k coverage factor of their sizes
   */
  CauseSets(CauseModelSelection selection, DiscriminatingMeasurement separation, double k) {
    this.selection = selection;
    this.separation = separation;
    this.k = k;
  }

  /** The likeliest first; 'nothing abnormal' always among them. */
  List<CauseSet> all() {
    List<CauseCandidate> likely =
        selection.candidates().stream()
            .filter(c -> selection.probability(c) >= ErrorCauseDiagnosis.LEAST_PROBABILITY)
            .sorted(Comparator.comparingDouble(selection::probability).reversed())
            .toList();
    Set<CauseCandidate> placed = new LinkedHashSet<>();
    List<CauseSet> sets = new ArrayList<>();
    sets.add(nothing(selection.probabilityOfNothing()));
    for (CauseCandidate c : likely) {
      if (!placed.contains(c)) {
        CauseSet set = set(c, placed);
        placed.addAll(set.members());
        sets.add(set);
      }
    }
    sets.sort(Comparator.comparingDouble(CauseSet::rank).reversed());
    return sets;
  }

  private static CauseSet nothing(double probability) {
    Cause cause =
        new Cause(
            Cause.NOTHING,
            Optional.empty(),
            Optional.empty(),
            probability,
            List.of(),
            Optional.empty());
    return new CauseSet(probability, 0, List.of(), List.of(), List.of(cause));
  }

  private CauseSet set(CauseCandidate first, Set<CauseCandidate> placed) {
    CauseFit best = selection.bestWith(first).orElseThrow();
    Map<CauseCandidate, CauseFit> same = new LinkedHashMap<>();
    same.put(first, best);
    double gain = selection.scaled(selection.without(best, first) - best.chiSquared());
    double close = Math.min(ErrorCauseDiagnosis.SEPARATED_CHI_SQUARED, gain / 2);
    for (CauseCandidate other : selection.candidates()) {
      if (!placed.contains(other) && !best.contains(other)) {
        selection
            .exchanged(best, first, other)
            .filter(f -> selection.scaled(f.chiSquared() - best.chiSquared()) < close)
            .ifPresent(f -> same.put(other, f));
      }
    }
    List<CauseCandidate> members = new ArrayList<>(same.keySet());
    members.sort(
        Comparator.<CauseCandidate>comparingDouble(c -> -Math.rint(100 * selection.probability(c)))
            .thenComparingDouble(c -> c.multiple(stateOf(same, c))));
    List<CauseFit> fits = members.stream().map(c -> fitOf(same, c)).toList();
    CauseSet plain = new CauseSet(0, gain, members, fits, List.of());
    Optional<String> separatedBy =
        members.size() > 1 ? separation.of(plain.pairs()) : Optional.empty();
    double sum = members.stream().mapToDouble(selection::probability).sum();
    List<Cause> causes = new ArrayList<>();
    for (int i = 0; i < members.size(); i++) {
      causes.add(cause(members, i, fits.get(i), separatedBy));
    }
    return new CauseSet(Math.min(1, sum), gain, members, fits, causes);
  }

  private static CauseFit fitOf(Map<CauseCandidate, CauseFit> fits, CauseCandidate candidate) {
    CauseFit fit = fits.get(candidate);
    if (fit == null) {
      throw new IllegalStateException("no fit of " + candidate.name());
    }
    return fit;
  }

  private static double stateOf(Map<CauseCandidate, CauseFit> fits, CauseCandidate candidate) {
    CauseFit fit = fitOf(fits, candidate);
    return fit.state(candidate);
  }

  private Cause cause(
      List<CauseCandidate> members, int i, CauseFit fit, Optional<String> separatedBy) {
    CauseCandidate c = members.get(i);
    double natural = c.natural(fit.state(c));
    double u = fit.u(c) * c.kind().slope(natural);
    return new Cause(
        c.kind().text(),
        Optional.of(c.where()),
        Optional.of(new Cause.Size(c.kind().size(natural), c.kind().unit(), u, k * u)),
        selection.probability(c),
        members.stream().filter(m -> !m.equals(c)).map(CauseCandidate::name).toList(),
        separatedBy);
  }
}
