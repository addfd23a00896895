// SPDX-License-Identifier: Apache-2.0
/**
 * A simulated bench that any program could talk to: instruments on real sockets, tied to simulated
 * units whose physics is a real model and whose truth is known; what goes wrong on it is a plan.
 * Read {@link millrace.sim.SimulatedBench} first. Knows only the leaves. Threads: one accepts at
 * each instrument, one more serves each client; one lock per bench, given away while an instrument
 * is busy.
 */
@NullMarked
package millrace.sim;

import org.jspecify.annotations.NullMarked;
