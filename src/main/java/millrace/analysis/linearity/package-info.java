// SPDX-License-Identifier: Apache-2.0
/**
 * How far a characteristic departs from a straight line, and ratios between ranges (methods.md 4).
 * Read {@link millrace.analysis.linearity.LinearityDeviation} first, then {@link
 * millrace.analysis.linearity.LoadLinearity}. Knows nothing of instruments. Pure functions on
 * immutable values; thread-safe.
 */
@NullMarked
package millrace.analysis.linearity;

import org.jspecify.annotations.NullMarked;
