// SPDX-License-Identifier: Apache-2.0
/**
 * Builds one response of the unit from the points of all ranges, which gives the current at any
 * condition. Read {@link millrace.assessment.response.UnitResponseBuilder} first. Judges nothing.
 * One thread at a time.
 */
@NullMarked
package millrace.assessment.response;

import org.jspecify.annotations.NullMarked;
