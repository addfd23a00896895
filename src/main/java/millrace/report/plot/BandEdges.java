// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

/**
 * A place where a band has its two edges.
 *
 * @param x where along the horizontal axis, in base units
 * @param low its lower edge
 * @param high its upper edge
 */
public record BandEdges(double x, double low, double high) {}
