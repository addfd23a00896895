// SPDX-License-Identifier: Apache-2.0
/**
 * Clocks, sleeping and seeds: nothing else in Millrace asks the system for time or chance; and the
 * threads beside that of the command. Read {@link millrace.time.TimeSource} first. Knows no other
 * room. Everything public is thread-safe.
 */
@NullMarked
package millrace.time;

import org.jspecify.annotations.NullMarked;
