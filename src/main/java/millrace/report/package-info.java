/**
 * What was found about a run, for people: one HTML page that needs nothing else, and a table for
 * the terminal. Read {@link millrace.report.Report} first. Reads assessments and the logbook; knows
 * nothing of running a bench, commands or the clock: the same run gives the same page. One thread
 * per report.
 */
@NullMarked
package millrace.report;

import org.jspecify.annotations.NullMarked;
