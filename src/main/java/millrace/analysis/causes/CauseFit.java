// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.List;

/** The best explanation by some candidates. Immutable. */
final class CauseFit {
  /** Nothing abnormal, to be compared with; of no observations. */
  static final CauseFit NOTHING = new CauseFit(List.of(), new double[0], new double[0], Double.NaN);

  private final List<CauseCandidate> candidates;
  private final double[] states;
  private final double[] u;
  private final double chiSquared;

  /**
   * An explanation.
   *
   * @param candidates what may be abnormal; empty: nothing
   * @param states the estimated deviation of each
   * @param u its standard uncertainty, the part's own normal spread left out
   * @param chiSquared of the residuals, weighted by the covariance of a normal unit
   */
  CauseFit(List<CauseCandidate> candidates, double[] states, double[] u, double chiSquared) {
    this.candidates = List.copyOf(candidates);
    this.states = states.clone();
    this.u = u.clone();
    this.chiSquared = chiSquared;
  }

  List<CauseCandidate> candidates() {
    return candidates;
  }

  double[] states() {
    return states.clone();
  }

  double state(CauseCandidate candidate) {
    return states[placeOf(candidate)];
  }

  double u(CauseCandidate candidate) {
    return u[placeOf(candidate)];
  }

  double chiSquared() {
    return chiSquared;
  }

  boolean contains(CauseCandidate candidate) {
    return candidates.contains(candidate);
  }

  /** The place of a candidate in this fit. */
  int placeOf(CauseCandidate candidate) {
    return candidates.indexOf(candidate);
  }
}
