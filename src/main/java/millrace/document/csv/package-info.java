// SPDX-License-Identifier: Apache-2.0
/**
 * CSV as people export it, row by row, with line and column of every fault. Read {@link
 * millrace.document.csv.CsvFile} first. Knows nothing of what columns mean. One thread at a time.
 */
@NullMarked
package millrace.document.csv;

import org.jspecify.annotations.NullMarked;
