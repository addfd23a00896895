// SPDX-License-Identifier: Apache-2.0
/**
 * Judges the results of a unit against the limits of its datasheet, each over its whole box of
 * conditions (methods.md 7). Read {@link millrace.assessment.judging.DatasheetLimitJudge} first.
 * Must not know the logbook: it receives results, the unit's response and the known conditions.
 * Pure; thread-safe.
 */
@org.jspecify.annotations.NullMarked
package millrace.assessment.judging;
