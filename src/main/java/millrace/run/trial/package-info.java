// SPDX-License-Identifier: Apache-2.0
/**
 * Whether a bench is wired as its file says, before a night is spent on it: the trial lap of a run,
 * and the check of the chain outside of one. Read {@link millrace.run.trial.TrialLap} first. One
 * thread at a time.
 */
@NullMarked
package millrace.run.trial;

import org.jspecify.annotations.NullMarked;
