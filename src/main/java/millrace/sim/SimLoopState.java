// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

/**
 * Currents and voltages in the loop.
 *
 * @param meterA through the current meter, A
 * @param seenV at the voltmeter, at its place in the loop, V
 * @param terminalV at the unit's terminals, V
 */
record SimLoopState(double meterA, double seenV, double terminalV) {}
