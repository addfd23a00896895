// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.analysis.causes.RivalPair.Rival;

/**
 * Causes that cannot be separated, with the fit of each.
 *
 * @param probability that the cause is among them, 0 to 1
 * @param gain by how much of chi^2 the data ask for it
 * @param members the likeliest first; empty: nothing is abnormal
 * @param fits one explanation per member
 * @param causes the same in words
 */
record CauseSet(
    double probability,
    double gain,
    List<CauseCandidate> members,
    List<CauseFit> fits,
    List<Cause> causes) {

  /** Sort key: among causes more likely than not, the heaviest first. */
  double rank() {
    return probability > 0.5 ? 1 + gain : probability;
  }

  /** One of its explanations. */
  Rival rival(int i) {
    return new Rival(fits.get(i), Optional.of(members.get(i)), members.get(i).name());
  }

  /** Every two of its explanations. */
  List<RivalPair> pairs() {
    List<RivalPair> pairs = new ArrayList<>();
    for (int i = 0; i < members.size(); i++) {
      for (int j = i + 1; j < members.size(); j++) {
        pairs.add(new RivalPair(rival(i), rival(j), gain));
      }
    }
    return pairs;
  }
}
