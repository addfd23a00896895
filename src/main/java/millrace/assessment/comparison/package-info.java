// SPDX-License-Identifier: Apache-2.0
/**
 * Runs, units and batches compared with one another and with their limits. Read {@link
 * millrace.assessment.comparison.RunComparer} first. Reads stored results, and judges runs that
 * have none; knows nothing of pages and commands, and never mixes simulated and real units. One
 * thread per comparison.
 */
@NullMarked
package millrace.assessment.comparison;

import org.jspecify.annotations.NullMarked;
