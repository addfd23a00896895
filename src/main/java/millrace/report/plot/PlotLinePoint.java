// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

/**
 * A corner of a line.
 *
 * @param x place along the horizontal axis, in base units
 * @param y place along the vertical axis, in base units
 */
public record PlotLinePoint(double x, double y) {}
