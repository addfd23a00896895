// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

/**
 * Vertical line across the frame, with its label above.
 *
 * @param label the label
 * @param x position, in base units
 * @param halfX half the width of the shade, 0 for none
 */
record UprightLine(String label, double x, double halfX) {}
