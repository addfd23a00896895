// SPDX-License-Identifier: Apache-2.0
/**
 * Pages as PDF, from the same source as the browser page. Read {@link
 * millrace.report.paper.PdfPage} first. Knows nothing of units under test. Only this package loads
 * the PDF libraries.
 */
@NullMarked
package millrace.report.paper;

import org.jspecify.annotations.NullMarked;
