// SPDX-License-Identifier: Apache-2.0
/**
 * What was found about a run, for people: one HTML page that needs nothing else, section by
 * section, and the test sheet. Read {@link millrace.report.page.Report} first. Reads assessments
 * and the logbook; knows nothing of running a bench, commands or the clock: the same run gives the
 * same page. One thread per page.
 */
@NullMarked
package millrace.report.page;

import org.jspecify.annotations.NullMarked;
