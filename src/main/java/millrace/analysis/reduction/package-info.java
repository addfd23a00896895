// SPDX-License-Identifier: Apache-2.0
/**
 * From readings to a current and a voltage with every error named (methods.md 1 and 2.1 to 2.3).
 * Read {@link millrace.analysis.reduction.PooledNoise} and {@link
 * millrace.analysis.reduction.MeterErrors} first. Knows nothing of sweeps. Pure functions on
 * immutable values; thread-safe, {@link millrace.analysis.reduction.ReadingAccumulator} excepted.
 */
@NullMarked
package millrace.analysis.reduction;

import org.jspecify.annotations.NullMarked;
