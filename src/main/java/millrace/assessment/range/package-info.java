// SPDX-License-Identifier: Apache-2.0
/**
 * Results of one range over load, supply and temperature, and in comparison with its neighbour.
 * Read {@link millrace.assessment.range.RangeAssessor} first. Judges nothing. One thread at a time.
 */
@NullMarked
package millrace.assessment.range;

import org.jspecify.annotations.NullMarked;
