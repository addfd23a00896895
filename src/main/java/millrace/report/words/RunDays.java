// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;
import millrace.evidence.RunOrigin;
import millrace.logbook.RunStart;
import millrace.logbook.RunSummary;

/** Days of a run, in the local time of its bench. Stateless, thread-safe. */
public final class RunDays {
  private RunDays() {}

  /**
   * The first day.
   *
   * @param run the run
   * @return the day; empty if a file of readings states none
   */
  public static Optional<LocalDate> first(RunSummary run) {
    return run.start().measuredAt().map(i -> day(run.start(), i));
  }

  /**
   * The last day.
   *
   * @param run the run
   * @return the day; for an import the first day, since its end is the time of the import; empty if
   *     unknown or if the run has not ended
   */
  public static Optional<LocalDate> last(RunSummary run) {
    return run.start().origin() == RunOrigin.IMPORTED
        ? first(run)
        : run.endedAt().map(i -> day(run.start(), i));
  }

  /**
   * All days in words.
   *
   * @param run the run
   * @return days such as {@code 2026-11-29 to 2026-11-30}
   */
  public static String inWords(RunSummary run) {
    Optional<LocalDate> first = first(run);
    if (first.isEmpty()) {
      return "on a day that the file of readings does not state";
    }
    boolean imported = run.start().origin() == RunOrigin.IMPORTED;
    Optional<LocalDate> last = last(run);
    return last.isEmpty() || last.equals(first)
        ? (imported ? "from " : "") + first.get()
        : first.get() + " to " + last.get();
  }

  private static LocalDate day(RunStart start, Instant instant) {
    return instant.atOffset(start.offset()).toLocalDate();
  }
}
