// SPDX-License-Identifier: Apache-2.0
/**
 * A small process that makes the bench safe if the runner dies. Read {@link
 * millrace.run.watchdog.Watchdog} first. Knows bench, logbook and the leaves; knows nothing of
 * plans and runners. Single-threaded.
 */
@NullMarked
package millrace.run.watchdog;

import org.jspecify.annotations.NullMarked;
