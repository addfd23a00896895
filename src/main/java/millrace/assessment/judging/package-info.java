// SPDX-License-Identifier: Apache-2.0
/**
 * Holds what was found about a unit against what its datasheet promises: each limit over its whole
 * box of conditions (methods.md 7). Read {@link millrace.assessment.judging.DatasheetLimitJudge}
 * first. Must not know the logbook: it is handed results, the unit's response and what is known of
 * conditions. Pure; thread-safe.
 */
@org.jspecify.annotations.NullMarked
package millrace.assessment.judging;
