// SPDX-License-Identifier: Apache-2.0
/**
 * What is true of a simulated bench and of its units, whoever measures it: kinds and what is drawn
 * from them, climate, noise. Read {@link millrace.sim.truth.SimulatedUnit} first. Knows no
 * instrument and no link. Values are immutable; what changes is guarded by the lock of the bench.
 */
@NullMarked
package millrace.sim.truth;

import org.jspecify.annotations.NullMarked;
