// SPDX-License-Identifier: Apache-2.0
/**
 * What a run looks at while time passes: interlocks, the clock, and what other terminals ask. Read
 * {@link millrace.run.interlock.InterlockWaiting} first. Sets no condition and takes no reading of
 * a point; a breach ends the run, which then puts the bench in its safe state. The thread of the
 * run alone.
 */
@NullMarked
package millrace.run.interlock;

import org.jspecify.annotations.NullMarked;
