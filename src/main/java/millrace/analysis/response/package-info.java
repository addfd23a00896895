// SPDX-License-Identifier: Apache-2.0
/**
 * The unit at any condition: current over terminal voltage and temperature as one fit per range
 * with the covariance of all its inputs (methods.md 11). Read {@link
 * millrace.analysis.response.UnitResponse} first, then {@link
 * millrace.analysis.response.RangeResponse}. Knows nothing of instruments. Pure functions on
 * immutable values; thread-safe.
 */
@NullMarked
package millrace.analysis.response;

import org.jspecify.annotations.NullMarked;
