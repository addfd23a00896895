// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

/**
 * A look of a run at a check standard.
 *
 * @param run local number of the run
 * @param point its number in the run
 * @param standard name of the check standard
 * @param meterRange range of the current meter, as it said itself; empty text if it did not
 * @param shownA what the meter showed less its zero, A; with exchanged leads half the difference
 */
public record CheckStandardLook(
    long run, long point, String standard, String meterRange, double shownA) {}
