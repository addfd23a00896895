// SPDX-License-Identifier: Apache-2.0
/**
 * Prepares and starts a night or a shift: inputs, checks of the bench against the plan, voltages,
 * simulation, boards. Read {@link millrace.night.Night} first. Knows the rooms that it connects,
 * and no command, option or exit code. One thread at a time.
 */
@NullMarked
package millrace.night;

import org.jspecify.annotations.NullMarked;
