// SPDX-License-Identifier: Apache-2.0
/**
 * Whether what was read can be believed: readings off their neighbours or off what came before, a
 * current that does not fit the load, an instrument that was changed meanwhile. Read {@link
 * millrace.run.plausibility.PlausibilityCheck} first. Takes no reading of its own but those that
 * check. The thread of the run alone.
 */
@NullMarked
package millrace.run.plausibility;

import org.jspecify.annotations.NullMarked;
