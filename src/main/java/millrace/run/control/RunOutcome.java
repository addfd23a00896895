// SPDX-License-Identifier: Apache-2.0
package millrace.run.control;

/**
 * How a run ended.
 *
 * @param run its local number in the logbook
 * @param complete points complete
 * @param flagged points flagged
 * @param skipped points skipped
 * @param toGo points of the plan that are not in the logbook
 * @param leftOut units that the trial lap excluded while the others went on
 */
public record RunOutcome(long run, int complete, int flagged, int skipped, int toGo, int leftOut) {}
