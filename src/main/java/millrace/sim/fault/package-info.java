// SPDX-License-Identifier: Apache-2.0
/**
 * What goes wrong on a simulated bench, and when. Read {@link millrace.sim.fault.FaultPlan} first.
 * Knows instruments by their names alone. Everything is immutable and thread-safe.
 */
@NullMarked
package millrace.sim.fault;

import org.jspecify.annotations.NullMarked;
