// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import millrace.analysis.variance.VarianceComponents;

/**
 * What a part of the scatter comes from.
 *
 * @param name the factor, or factors that always change together, in words; what no factor explains
 *     is from unit to unit, the measurement included
 * @param component its standard deviation with its interval, in the unit of the quantity
 * @param share its variance over the sum of all, 0 to 1
 */
public record ScatterSource(String name, VarianceComponents.Component component, double share) {}
