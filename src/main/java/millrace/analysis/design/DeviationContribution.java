// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.design;

import millrace.analysis.design.DesignDeviation.Kind;

/**
 * Contribution of one deviation to one quantity.
 *
 * @param part the part or network
 * @param kind what of it deviates
 * @param effect change of the quantity when the part is off by its half-width, in the quantity's
 *     unit, signed
 * @param share its part of the root-sum-square, effect squared over the sum of squares, 0 to 1
 */
public record DeviationContribution(String part, Kind kind, double effect, double share) {}
