// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

/**
 * A place on an axis that carries a number.
 *
 * @param value in base units of the axis
 * @param label the number as printed; empty for a place between numbers
 */
record Tick(double value, String label) {}
