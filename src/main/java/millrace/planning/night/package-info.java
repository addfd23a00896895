// SPDX-License-Identifier: Apache-2.0
/**
 * The night that decides every limit of a datasheet in the fewest hours, or the best night of a
 * given length (methods.md 12). Read {@link millrace.planning.night.NightSearch} first. A {@link
 * millrace.planning.night.NightForecaster}, which computes a run, forecasts the results of a night.
 */
@NullMarked
package millrace.planning.night;

import org.jspecify.annotations.NullMarked;
