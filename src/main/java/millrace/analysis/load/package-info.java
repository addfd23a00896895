// SPDX-License-Identifier: Apache-2.0
/**
 * How the current behaves under load: plateau, compliance, knee, supply (methods.md 3). Read {@link
 * millrace.analysis.load.LoadCurve} first, then {@link millrace.analysis.load.LoadResults}. Knows
 * nothing of instruments. Pure functions on immutable values; thread-safe.
 */
@NullMarked
package millrace.analysis.load;

import org.jspecify.annotations.NullMarked;
