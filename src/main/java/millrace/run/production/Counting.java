// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.EnumMap;
import java.util.EnumSet;
import java.util.Map;
import java.util.Set;

/** Counts what a session does. Single-threaded. */
final class Counting {
  private final Map<BoardOutcome, Integer> first = new EnumMap<>(BoardOutcome.class);
  private final Set<BoardOutcome> seen = EnumSet.noneOf(BoardOutcome.class);
  private int retests;
  private int refused;
  private boolean checkFailed;

  void refused() {
    refused++;
  }

  void tested(BoardOutcome outcome, boolean again) {
    seen.add(outcome);
    if (again) {
      retests++;
    } else {
      first.merge(outcome, 1, Integer::sum);
    }
  }

  void checked(Check check) {
    checkFailed |= !check.good();
  }

  Screen.Tally tally() {
    return new Screen.Tally(first, retests, refused);
  }

  Summary summary() {
    return new Summary(tally(), seen, checkFailed);
  }
}
