// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

/**
 * What flows and stands in the loop.
 *
 * @param meterA through the current meter, A
 * @param seenV at the voltmeter, wherever it sits, V
 * @param terminalV at the unit's terminals, V
 */
record SimLoopState(double meterA, double seenV, double terminalV) {}
