// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

/** Who waits for the trials of a run (methods.md 2.5). Called by several threads. */
@FunctionalInterface
public interface TrialProgress {
  /** Shows nothing. */
  TrialProgress NONE = share -> {};

  /**
   * Trials were made.
   *
   * @param share of the work that is done, from 0 to 1; jumps to 1 where no result needs more
   *     trials
   */
  void done(double share);
}
