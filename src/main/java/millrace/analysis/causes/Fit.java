// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.List;

/** The best explanation by some candidates. Immutable. */
final class Fit {
  private final List<Candidate> candidates;
  private final double[] states;
  private final double[] u;
  private final double chiSquared;

  /**
   * An explanation.
   *
   * @param candidates what may be abnormal; empty: nothing
   * @param states the estimated deviation of each
   * @param u its standard uncertainty, the part's own normal spread left out
   * @param chiSquared what is left, in the metric of everything that is normal
   */
  Fit(List<Candidate> candidates, double[] states, double[] u, double chiSquared) {
    this.candidates = List.copyOf(candidates);
    this.states = states.clone();
    this.u = u.clone();
    this.chiSquared = chiSquared;
  }

  List<Candidate> candidates() {
    return candidates;
  }

  double[] states() {
    return states.clone();
  }

  double state(Candidate candidate) {
    return states[placeOf(candidate)];
  }

  double u(Candidate candidate) {
    return u[placeOf(candidate)];
  }

  double chiSquared() {
    return chiSquared;
  }

  boolean contains(Candidate candidate) {
    return candidates.contains(candidate);
  }

  /** The place of a candidate in this fit. */
  int placeOf(Candidate candidate) {
    return candidates.indexOf(candidate);
  }
}
