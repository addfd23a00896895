// SPDX-License-Identifier: Apache-2.0
/**
 * The guide for people who are new at a bench, as one page: its text and the lines of its drawings
 * stand in src/site/guide. Read {@link millrace.report.guide.Guide} first. Knows no run and no file
 * of a bench. Stateless.
 */
@NullMarked
package millrace.report.guide;

import org.jspecify.annotations.NullMarked;
