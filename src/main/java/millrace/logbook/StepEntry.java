// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.time.Duration;
import java.util.Optional;

/**
 * A step of a run, written before it was begun.
 *
 * @param id its number in the logbook
 * @param key its stable name within the run
 * @param what what it was to do, in words
 * @param started elapsed time of the run
 * @param end when and how it ended; empty if it was interrupted
 */
public record StepEntry(long id, String key, String what, Duration started, Optional<End> end) {

  /**
   * The end of a step.
   *
   * @param at elapsed time of the run
   * @param outcome in words
   */
  public record End(Duration at, String outcome) {}
}
