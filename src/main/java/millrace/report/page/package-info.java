// SPDX-License-Identifier: Apache-2.0
/**
 * Report of a run for people: one HTML page that needs nothing else, section by section. Read
 * {@link millrace.report.page.Report} first. Reads assessments and the logbook; knows nothing of
 * running a bench, of commands or of the clock, so that the same run gives the same page. One
 * thread per page.
 */
@NullMarked
package millrace.report.page;

import org.jspecify.annotations.NullMarked;
