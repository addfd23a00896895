// SPDX-License-Identifier: Apache-2.0
/**
 * History of one unit for people: its words, charts and page. Read {@link
 * millrace.report.unit.UnitHistoryPage} first. Judges nothing. Stateless; one page belongs to one
 * thread.
 */
@NullMarked
package millrace.report.unit;

import org.jspecify.annotations.NullMarked;
