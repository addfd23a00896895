// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;
import org.apache.commons.math3.util.CombinatoricsUtils;

/**
 * Ranks nothing, single causes and pairs by the Bayesian information criterion, extended by the
 * number of models of equal size that were tried (methods.md 9): score = chi^2 + k ln n + 2 ln
 * (number of models with k causes), weight exp(-score/2). Where even the best model fits poorly,
 * chi^2 is divided by that model's chi^2 per degree of freedom, so that residuals which no model
 * explains are no evidence for any (the c-hat of Burnham and Anderson). Sources: Schwarz, Annals of
 * Statistics 6 (1978) 461; Chen and Chen, Biometrika 95 (2008) 759, with gamma = 1; Burnham and
 * Anderson, Model Selection and Multimodel Inference, 2nd ed., Springer 2002, 2.5 (all from
 * memory).
 */
final class CauseModelSelection {
  /** How many single causes are tried in pairs with every other. */
  private static final int LEADERS = 6;

  /** Below this gain in chi^2 a second cause never outweighs the penalty for it. */
  private static final double LEAST_PROMISE = 3;

  private final CauseInferenceProblem problem;
  private final List<CauseCandidate> candidates;
  private final int moments;
  private final Map<CauseFit, Double> weights = new LinkedHashMap<>();
  private final List<CauseFit> singles = new ArrayList<>();
  private final double excess;

  /**
   * A selection.
   *
   * @param problem what was observed
   * @param all what may be abnormal
   * @param moments number of moments at which a change was looked for
   * @param somethingIs whether 'nothing abnormal' is ruled out, since no unit within its tolerances
   *     shows what was observed
   */
  CauseModelSelection(
      CauseInferenceProblem problem, List<CauseCandidate> all, int moments, boolean somethingIs) {
    this.problem = problem;
    this.moments = moments;
    this.candidates = all.stream().filter(problem::notices).toList();
    for (CauseCandidate c : candidates) {
      problem.fit(List.of(c), new double[1]).ifPresent(singles::add);
    }
    singles.sort(Comparator.comparingDouble(CauseFit::chiSquared));
    List<CauseFit> models = new ArrayList<>(singles);
    if (!somethingIs || singles.isEmpty()) {
      models.add(problem.nothing());
    }
    models.addAll(pairs());
    excess = Math.max(1, models.stream().mapToDouble(this::perFreedom).min().orElse(1));
    weigh(models);
  }

  private double perFreedom(CauseFit fit) {
    return fit.chiSquared() / Math.max(1, problem.size() - fit.candidates().size());
  }

  private List<CauseFit> pairs() {
    List<CauseFit> pairs = new ArrayList<>();
    for (int i = 0; i < Math.min(LEADERS, singles.size()); i++) {
      CauseFit leader = singles.get(i);
      List<CauseCandidate> later =
          singles.stream().skip(i + 1).map(f -> f.candidates().get(0)).toList();
      double[] promises = problem.promises(leader, later);
      for (int j = 0; j < promises.length; j++) {
        if (promises[j] >= LEAST_PROMISE) {
          pair(leader, later.get(j)).ifPresent(pairs::add);
        }
      }
    }
    return pairs;
  }

  private Optional<CauseFit> pair(CauseFit leader, CauseCandidate further) {
    return problem.fit(
        List.of(leader.candidates().get(0), further), new double[] {leader.states()[0], 0});
  }

  private void weigh(List<CauseFit> fits) {
    double best = fits.stream().mapToDouble(this::score).min().orElse(0);
    double sum = fits.stream().mapToDouble(f -> Math.exp((best - score(f)) / 2)).sum();
    fits.sort(Comparator.comparingDouble(this::score));
    fits.forEach(f -> weights.put(f, Math.exp((best - score(f)) / 2) / sum));
  }

  private double score(CauseFit fit) {
    int k = fit.candidates().size();
    double models = CombinatoricsUtils.binomialCoefficientDouble(Math.max(2, candidates.size()), k);
    double late = (double) fit.candidates().stream().filter(CauseCandidate::late).count();
    models *= Math.pow(Math.max(1, moments), late);
    return scaled(fit.chiSquared())
        + k * Math.log(Math.max(problem.size(), 2))
        + 2 * Math.log(models);
  }

  /**
   * A difference of chi^2, divided by the best model's chi^2 per degree of freedom where that is
   * too large.
   */
  double scaled(double chiSquared) {
    return chiSquared / excess;
  }

  double probability(CauseCandidate candidate) {
    return probability(f -> f.contains(candidate));
  }

  double probabilityOfNothing() {
    return probability(f -> f.candidates().isEmpty());
  }

  private double probability(Predicate<CauseFit> which) {
    double sum =
        weights.entrySet().stream()
            .filter(e -> which.test(e.getKey()))
            .mapToDouble(Map.Entry::getValue)
            .sum();
    return Math.min(1, sum);
  }

  /** The best model. */
  CauseFit best() {
    return weights.keySet().iterator().next();
  }

  /** The best model with a candidate. */
  Optional<CauseFit> bestWith(CauseCandidate candidate) {
    return weights.keySet().stream().filter(f -> f.contains(candidate)).findFirst();
  }

  /** A model with one candidate in another's place. */
  Optional<CauseFit> exchanged(CauseFit fit, CauseCandidate out, CauseCandidate in) {
    List<CauseCandidate> members = new ArrayList<>(fit.candidates());
    members.set(fit.placeOf(out), in);
    double[] start = fit.states().clone();
    start[fit.placeOf(out)] = 0;
    return problem.fit(members, start);
  }

  /** chi^2 of a model with one candidate taken out. */
  double without(CauseFit fit, CauseCandidate out) {
    List<CauseCandidate> rest = fit.candidates().stream().filter(c -> !c.equals(out)).toList();
    return rest.isEmpty()
        ? problem.nothing().chiSquared()
        : problem
            .fit(rest, new double[rest.size()])
            .map(CauseFit::chiSquared)
            .orElse(problem.nothing().chiSquared());
  }

  List<CauseCandidate> candidates() {
    return candidates;
  }
}
