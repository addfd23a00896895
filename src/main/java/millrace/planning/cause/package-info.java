// SPDX-License-Identifier: Apache-2.0
/**
 * The cheapest measurement that tells apart the causes which a run left together (methods.md 12).
 * Read {@link millrace.planning.cause.CauseSearch} first.
 */
@NullMarked
package millrace.planning.cause;

import org.jspecify.annotations.NullMarked;
