// SPDX-License-Identifier: Apache-2.0
/**
 * One unit over all its runs: current error over time, repairs, long-term drift, and when it leaves
 * its limits (methods.md 13). Read {@link millrace.assessment.history.UnitHistory} first. Only
 * reads logbooks. One thread at a time per logbook.
 */
@NullMarked
package millrace.assessment.history;

import org.jspecify.annotations.NullMarked;
