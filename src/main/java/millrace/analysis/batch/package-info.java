// SPDX-License-Identifier: Apache-2.0
/**
 * Many units, or one unit again: yield, capability, tolerance, charts, outliers, comparison, gauge
 * study (methods.md 8). Read {@link millrace.analysis.batch.BatchMeanAndSpread} first. Knows
 * nothing of where values come from; each function takes one quantity of one range. Pure;
 * thread-safe.
 */
@NullMarked
package millrace.analysis.batch;

import org.jspecify.annotations.NullMarked;
