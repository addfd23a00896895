// SPDX-License-Identifier: Apache-2.0
/**
 * The cheapest measurement that separates the causes which a run does not separate (methods.md 12).
 * Read {@link millrace.planning.cause.CauseSearch} first.
 */
@NullMarked
package millrace.planning.cause;

import org.jspecify.annotations.NullMarked;
