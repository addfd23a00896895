// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** The runs of units that share a chamber and instruments for a night. */
public final class NightRuns {
  /** The runs of a night begin one after the other, within seconds. */
  private static final Duration BEGUN_TOGETHER = Duration.ofMinutes(10);

  private NightRuns() {}

  /**
   * The runs that were begun together with one.
   *
   * @param book where they stand
   * @param run any of them
   * @return all of them, this one too, in the order of their numbers
   */
  public static List<RunSummary> of(Logbook book, RunSummary run) {
    Instant began = run.start().startedAt();
    RunFilter near =
        RunFilter.ALL.within(
            Optional.of(began.minus(BEGUN_TOGETHER)), Optional.of(began.plus(BEGUN_TOGETHER)));
    return book.runs(near).stream().filter(r -> r.night().equals(run.night())).toList();
  }
}
