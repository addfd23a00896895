// SPDX-License-Identifier: Apache-2.0
/**
 * What a night or a shift needs before it starts, and its start: inputs, what the bench must have
 * and may do, voltages, simulation, boards. Read {@link millrace.night.Night} first. Knows what it
 * wires together, and no command, option or exit code. One thread at a time.
 */
@NullMarked
package millrace.night;

import org.jspecify.annotations.NullMarked;
