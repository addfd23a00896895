// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.history;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The history of one unit.
 *
 * @param unit serial number
 * @param simulated true if all its runs were simulated; simulated ones beside real ones are left
 *     out
 * @param coverage probability of the intervals
 * @param runs every run, in the order of time
 * @param ranges the ranges whose current error was found, in the order of the last run
 * @param lookAgain when to measure it again; empty if nothing tells
 * @param notes what is compared with what, in whole sentences
 */
public record UnitHistory(
    String unit,
    boolean simulated,
    double coverage,
    List<UnitRun> runs,
    List<RangeHistory> ranges,
    Optional<LookAgain> lookAgain,
    List<String> notes) {
  /** Copies the lists. */
  public UnitHistory {
    runs = List.copyOf(runs);
    ranges = List.copyOf(ranges);
    notes = List.copyOf(notes);
  }

  /**
   * When to measure again.
   *
   * @param by the day
   * @param why the reason, in words
   * @param within probability that every forecast limit is met on that day; empty without a
   *     forecast
   */
  public record LookAgain(LocalDate by, String why, OptionalDouble within) {}

  /**
   * The last run that is used.
   *
   * @return the run; empty if all are left out
   */
  public Optional<UnitRun> lastUsed() {
    return runs.stream().filter(UnitRun::used).reduce((a, b) -> b);
  }

  /**
   * What was done to the unit after its last run that is used.
   *
   * @return in the order of time; empty if nothing was
   */
  public List<String> workSince() {
    return workSince(runs);
  }

  /** The same of a list of runs. */
  static List<String> workSince(List<UnitRun> runs) {
    int last = runs.size() - 1;
    while (last >= 0 && !runs.get(last).used()) {
      last--;
    }
    return last < 0
        ? List.of()
        : runs.subList(last, runs.size()).stream()
            .flatMap(r -> r.workAfter().stream())
            .map(UnitRun.Work::text)
            .toList();
  }
}
