// SPDX-License-Identifier: Apache-2.0
/**
 * Label of a unit: a few words and a code for scanners. Read {@link
 * millrace.report.label.UnitLabel} first. Judges nothing. Only this package loads the QR code
 * library. Everything here is immutable or stateless.
 */
@NullMarked
package millrace.report.label;

import org.jspecify.annotations.NullMarked;
