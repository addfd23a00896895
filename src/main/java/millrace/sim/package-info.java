/**
 * A simulated bench that any program could talk to: instruments on real sockets, tied to simulated
 * units whose physics is a real model and whose truth is known. Read {@link
 * millrace.sim.SimulatedBench} first. Knows only the leaves. Instruments answer in threads of their
 * own, one lock per bench.
 */
@NullMarked
package millrace.sim;

import org.jspecify.annotations.NullMarked;
