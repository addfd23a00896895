// SPDX-License-Identifier: Apache-2.0
/**
 * Import and export of readings and results of the logbook as plain files. Read {@link
 * millrace.exchange.Import} first. Knows nothing of running a bench, of pages and of commands. One
 * thread, the thread of the logbook.
 */
@NullMarked
package millrace.exchange;

import org.jspecify.annotations.NullMarked;
