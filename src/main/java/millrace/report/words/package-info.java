// SPDX-License-Identifier: Apache-2.0
/**
 * Results, limits and causes in words and figures; the same on a page and on a terminal. Read
 * {@link millrace.report.words.ResultFigures} first. Knows no page. Stateless.
 */
@NullMarked
package millrace.report.words;

import org.jspecify.annotations.NullMarked;
