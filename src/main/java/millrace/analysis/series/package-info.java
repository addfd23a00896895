// SPDX-License-Identifier: Apache-2.0
/**
 * Long records of one current: drift, noise, stability over averaging times (methods.md 6.3, 6.4).
 * Read {@link millrace.analysis.series.TimeSeries} first. Knows nothing of where a record comes
 * from. Pure functions; thread-safe.
 */
@NullMarked
package millrace.analysis.series;

import org.jspecify.annotations.NullMarked;
