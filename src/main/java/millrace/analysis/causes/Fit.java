package millrace.analysis.causes;

import java.util.List;

/**
 * The best explanation by some candidates.
 *
 * @param candidates what may be abnormal; empty: nothing
 * @param states the estimated deviation of each
 * @param u its standard uncertainty, the part's own normal spread left out
 * @param chiSquared what is left, in the metric of everything that is normal
 */
record Fit(List<Candidate> candidates, double[] states, double[] u, double chiSquared) {

  boolean contains(Candidate candidate) {
    return candidates.contains(candidate);
  }

  /** The place of a candidate in this fit. */
  int placeOf(Candidate candidate) {
    return candidates.indexOf(candidate);
  }
}
