// SPDX-License-Identifier: Apache-2.0
/**
 * When a unit is at temperature, and when a reading has settled (methods.md 6.1, 6.2). Read {@link
 * millrace.analysis.settling.SoakJudge} first. Pure functions; thread-safe.
 */
@NullMarked
package millrace.analysis.settling;

import org.jspecify.annotations.NullMarked;
