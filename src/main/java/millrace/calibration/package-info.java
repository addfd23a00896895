// SPDX-License-Identifier: Apache-2.0
/**
 * What certificates and data sheets state of instruments: accuracy, corrections, shunts. Plain
 * records, so that bench files and the measurement science share the same types. Read {@link
 * millrace.calibration.AccuracyStatement} first. Knows quantities alone. Immutable.
 */
@NullMarked
package millrace.calibration;

import org.jspecify.annotations.NullMarked;
