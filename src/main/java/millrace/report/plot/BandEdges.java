// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

/**
 * Both edges of a band at one place.
 *
 * @param x place along the horizontal axis, in base units
 * @param low its lower edge
 * @param high its upper edge
 */
public record BandEdges(double x, double low, double high) {}
