// SPDX-License-Identifier: Apache-2.0
/**
 * What a run was given, what it goes on from, and what it writes: the logbook first, then
 * observers. Read {@link millrace.run.journal.Journal} first. Touches no instrument. The thread of
 * the run alone.
 */
@NullMarked
package millrace.run.journal;

import org.jspecify.annotations.NullMarked;
