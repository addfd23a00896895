// SPDX-License-Identifier: Apache-2.0
/**
 * The points of all ranges as one response of the unit, which tells the current at any condition.
 * Read {@link millrace.assessment.response.UnitResponseBuilder} first. Judges nothing. One thread
 * at a time.
 */
@NullMarked
package millrace.assessment.response;

import org.jspecify.annotations.NullMarked;
