// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

/**
 * An upright line across the frame, with the words above it.
 *
 * @param label the words
 * @param x where, in base units
 * @param halfX half the width of the shade, 0 for none
 */
record UprightLine(String label, double x, double halfX) {}
