package millrace.analysis.causes;

/**
 * One unknown of the model that may be abnormal.
 *
 * @param kind what it is
 * @param of of which part
 * @param index its place in the state
 * @param sign by which the state moves the natural size, 1 or -1
 * @param nominal natural size of a nominal unit
 * @param least smallest natural size that can be, minus infinity if any
 * @param tolerance half-width that tolerances allow, in natural units, above 0
 */
record Candidate(
    CauseKind kind,
    String of,
    int index,
    double sign,
    double nominal,
    double least,
    double tolerance) {

  double natural(double state) {
    return nominal + sign * state;
  }

  boolean possible(double state) {
    return natural(state) >= least;
  }

  String name() {
    return kind.text() + " " + of;
  }

  /** How many times its tolerance it would be off. */
  double multiple(double state) {
    return Math.abs(state) / tolerance;
  }
}
