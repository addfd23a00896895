// SPDX-License-Identifier: Apache-2.0
/**
 * Takes the readings of points: zeros, single points, the approach to the knee, series over time.
 * Read {@link millrace.run.reading.PointMeasurer} first. Chooses no condition but the next load of
 * a search. The thread of the run alone.
 */
@NullMarked
package millrace.run.reading;

import org.jspecify.annotations.NullMarked;
