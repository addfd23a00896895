// SPDX-License-Identifier: Apache-2.0
/**
 * What one range does with load, supply and temperature, and how it compares with its neighbour.
 * Read {@link millrace.assessment.range.RangeAssessor} first. Judges nothing. One thread at a time.
 */
@NullMarked
package millrace.assessment.range;

import org.jspecify.annotations.NullMarked;
