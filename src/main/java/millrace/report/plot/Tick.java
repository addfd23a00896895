// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

/**
 * Tick of an axis.
 *
 * @param value position in base units of the axis
 * @param label the printed number; empty for a tick between numbers
 */
record Tick(double value, String label) {}
