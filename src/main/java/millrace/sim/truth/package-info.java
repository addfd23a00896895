// SPDX-License-Identifier: Apache-2.0
/**
 * The true values of a simulated bench and of its units: kinds and draws, climate, noise. Read
 * {@link millrace.sim.truth.SimulatedUnit} first. Knows no instrument and no link. Values are
 * immutable; the lock of the bench guards the changing state.
 */
@NullMarked
package millrace.sim.truth;

import org.jspecify.annotations.NullMarked;
