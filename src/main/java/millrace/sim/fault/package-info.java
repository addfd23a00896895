// SPDX-License-Identifier: Apache-2.0
/**
 * The faults of a simulated bench and their times. Read {@link millrace.sim.fault.FaultPlan} first.
 * Knows instruments only by name. Everything is immutable and thread-safe.
 */
@NullMarked
package millrace.sim.fault;

import org.jspecify.annotations.NullMarked;
