// SPDX-License-Identifier: Apache-2.0
/**
 * Comparison of runs, as a page and as tables. Read {@link
 * millrace.report.comparison.ComparisonReport} first. Knows the parts of a page. One thread per
 * comparison.
 */
@NullMarked
package millrace.report.comparison;

import org.jspecify.annotations.NullMarked;
