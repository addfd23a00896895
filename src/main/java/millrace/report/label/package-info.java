// SPDX-License-Identifier: Apache-2.0
/**
 * The label on a unit: a few words and a code for scanners. Read {@link
 * millrace.report.label.UnitLabel} first. Judges nothing; the library behind the code is loaded by
 * it alone. Everything here is immutable or stateless.
 */
@NullMarked
package millrace.report.label;

import org.jspecify.annotations.NullMarked;
