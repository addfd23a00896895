// SPDX-License-Identifier: Apache-2.0
/**
 * A simulated bench that any program can use: instruments on real sockets, connected to simulated
 * units with a physical model and known true values; a plan contains its faults. Read {@link
 * millrace.sim.SimulatedBench} first. Knows only the leaves. Threads: one accepts at each
 * instrument, one more serves each client; one lock per bench, released while an instrument is
 * busy.
 */
@NullMarked
package millrace.sim;

import org.jspecify.annotations.NullMarked;
