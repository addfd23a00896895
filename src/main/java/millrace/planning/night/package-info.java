// SPDX-License-Identifier: Apache-2.0
/**
 * The night that decides every limit of a datasheet in the fewest hours, or the best that given
 * hours allow (methods.md 12). Read {@link millrace.planning.night.NightSearch} first. What a night
 * would tell comes from a {@link millrace.planning.night.NightForecaster}, which computes a run.
 */
@NullMarked
package millrace.planning.night;

import org.jspecify.annotations.NullMarked;
