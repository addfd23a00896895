// SPDX-License-Identifier: Apache-2.0
/**
 * Pages as PDF, from the same source as in a browser. Read {@link millrace.report.paper.PdfPage}
 * first. Knows no unit; the libraries behind it are loaded by it alone.
 */
@NullMarked
package millrace.report.paper;

import org.jspecify.annotations.NullMarked;
