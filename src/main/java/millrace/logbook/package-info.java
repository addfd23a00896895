// SPDX-License-Identifier: Apache-2.0
/**
 * The logbook: one SQLite file that keeps runs with their points, readings, incidents, input files
 * and results; what was read is never changed. Read {@link millrace.logbook.Logbook} first, then
 * {@link millrace.logbook.RunWriter} and {@link millrace.logbook.RunReader}. Knows only the leaves:
 * not what a file means, nor how a result is computed. One thread at a time uses a logbook; another
 * thread or process opens its own, read-only, also while a run is being written.
 */
@NullMarked
package millrace.logbook;

import org.jspecify.annotations.NullMarked;
