// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.Optional;

/**
 * Two explanations that the observations do not tell apart.
 *
 * @param one an explanation
 * @param other the other
 * @param gain by how much of chi^2 the data ask for a cause
 */
record RivalPair(Rival one, Rival other, double gain) {
  /**
   * One explanation of a set.
   *
   * @param fit what it explains
   * @param member the cause that it is about; empty: nothing is abnormal
   * @param name how it is called
   */
  record Rival(CauseFit fit, Optional<CauseCandidate> member, String name) {}

  RivalPair swapped() {
    return new RivalPair(other, one, gain);
  }
}
