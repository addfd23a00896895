// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

/**
 * A corner of a line.
 *
 * @param x where along the horizontal axis, in base units
 * @param y where along the vertical axis, in base units
 */
public record PlotLinePoint(double x, double y) {}
