// SPDX-License-Identifier: Apache-2.0
/**
 * Well-formed markup, written as a stream, with everything that comes from outside escaped. Read
 * {@link millrace.report.markup.Markup} first. Knows no other package of the house. One writer
 * belongs to one thread.
 */
@NullMarked
package millrace.report.markup;

import org.jspecify.annotations.NullMarked;
