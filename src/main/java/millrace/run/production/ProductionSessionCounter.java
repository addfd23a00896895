// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.EnumMap;
import java.util.EnumSet;
import java.util.Map;
import java.util.Set;

/** Counts the events of a session. Single-threaded. */
final class ProductionSessionCounter {
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

  void checked(BenchSelfCheck check) {
    checkFailed |= !check.good();
  }

  OperatorScreen.Tally tally() {
    return new OperatorScreen.Tally(first, retests, refused);
  }

  ProductionSummary summary() {
    return new ProductionSummary(tally(), seen, checkFailed);
  }
}
