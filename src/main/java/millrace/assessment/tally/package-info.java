// SPDX-License-Identifier: Apache-2.0
/**
 * The readings of a run, summed point by point while they are read. Read {@link
 * millrace.assessment.tally.RunReadingTallies} first. Knows no bench file. One thread at a time.
 */
@NullMarked
package millrace.assessment.tally;

import org.jspecify.annotations.NullMarked;
