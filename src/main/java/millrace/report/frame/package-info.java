// SPDX-License-Identifier: Apache-2.0
/**
 * What every page is made of: its frame and style sheets, its tables, the words that are set apart.
 * Read {@link millrace.report.frame.HtmlPageFrame} first. One page belongs to one thread.
 */
@NullMarked
package millrace.report.frame;

import org.jspecify.annotations.NullMarked;
