// SPDX-License-Identifier: Apache-2.0
/**
 * Writer of well-formed markup as a stream; it escapes all external text. Read {@link
 * millrace.report.markup.Markup} first. Knows no other package of the project. One writer belongs
 * to one thread.
 */
@NullMarked
package millrace.report.markup;

import org.jspecify.annotations.NullMarked;
