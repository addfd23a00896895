// SPDX-License-Identifier: Apache-2.0
/**
 * Basic parts of every page: frame, style sheets, tables and highlighted words. Read {@link
 * millrace.report.frame.HtmlPageFrame} first. One page belongs to one thread.
 */
@NullMarked
package millrace.report.frame;

import org.jspecify.annotations.NullMarked;
