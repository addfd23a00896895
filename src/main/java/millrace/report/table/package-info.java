// SPDX-License-Identifier: Apache-2.0
/**
 * Tables in plain text, for a terminal. Read {@link millrace.report.table.TextColumns} first. Uses
 * only the words of the report. One thread per table.
 */
@NullMarked
package millrace.report.table;

import org.jspecify.annotations.NullMarked;
