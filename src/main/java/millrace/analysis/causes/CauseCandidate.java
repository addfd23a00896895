// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.Optional;

/**
 * One unknown of the model that may be abnormal.
 *
 * @param kind what it is
 * @param of the part
 * @param index its place in the state
 * @param sign between state and natural size, 1 or -1
 * @param nominal natural size of a nominal unit
 * @param least smallest possible natural size; minus infinity if unbounded
 * @param tolerance half-width that tolerances allow, in natural units, above 0
 * @param since when it began; empty: present throughout
 */
record CauseCandidate(
    ErrorCause kind,
    String of,
    int index,
    double sign,
    double nominal,
    double least,
    double tolerance,
    Optional<MidRunChange> since) {

  /** Throughout. */
  CauseCandidate(
      ErrorCause kind,
      String of,
      int index,
      double sign,
      double nominal,
      double least,
      double tolerance) {
    this(kind, of, index, sign, nominal, least, tolerance, Optional.empty());
  }

  /** The same, but from a moment on. */
  CauseCandidate from(MidRunChange change) {
    return new CauseCandidate(
        kind, of, index, sign, nominal, least, tolerance, Optional.of(change));
  }

  /**
   * Tells whether it is present at a time, s; at an unknown time only if it is present throughout.
   */
  boolean at(double timeS) {
    return since.isEmpty() || timeS >= since.get().after().timeS();
  }

  double natural(double state) {
    return nominal + sign * state;
  }

  boolean possible(double state) {
    return natural(state) >= least;
  }

  String name() {
    return kind.text() + " " + where();
  }

  /** Tells whether it began during the measurement. */
  boolean late() {
    return since.isPresent();
  }

  /** The part, and from when on. */
  String where() {
    return since.map(c -> "%s (from %s on)".formatted(of, c.after().inWords())).orElse(of);
  }

  /** Its deviation as a multiple of its tolerance. */
  double multiple(double state) {
    return Math.abs(state) / tolerance;
  }
}
