// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.history;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import millrace.evidence.Conformity;
import millrace.logbook.RunSummary;

/**
 * One run of a unit, as its history lists it.
 *
 * @param run the run
 * @param limits conformity with each limit as judged last; empty where it was not judged or is left
 *     out
 * @param leftOut why nothing of it is used; empty if it is used
 * @param notes what differs from the run before: datasheet, instruments, certificates, set-up; and
 *     points that are flagged
 * @param workBefore what was done to the unit before this run: the recorded cause of a retest
 * @param workAfter what was done to the unit after this run: notes of repairs
 */
public record UnitRun(
    RunSummary run,
    List<Conformity> limits,
    Optional<String> leftOut,
    List<String> notes,
    Optional<String> workBefore,
    List<Work> workAfter) {
  /** Copies the lists. */
  public UnitRun {
    limits = List.copyOf(limits);
    notes = List.copyOf(notes);
    workAfter = List.copyOf(workAfter);
  }

  /**
   * Work on the unit, after a run.
   *
   * @param text what was done
   * @param writtenAt when that was noted
   */
  public record Work(String text, Instant writtenAt) {}

  /**
   * Tells whether its results are used.
   *
   * @return false if it is left out
   */
  public boolean used() {
    return leftOut.isEmpty();
  }

  /**
   * When it was measured.
   *
   * @return days since 1970-01-01 UTC; 0 if a file of readings does not state it
   */
  public double days() {
    return run.start().measuredAt().map(i -> i.toEpochMilli() / 86.4e6).orElse(0.0);
  }
}
