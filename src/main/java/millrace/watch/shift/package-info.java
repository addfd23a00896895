// SPDX-License-Identifier: Apache-2.0
/**
 * The page of a shift that tests boards: outcome, failed limits, next step, and a field for scans.
 */
@NullMarked
package millrace.watch.shift;

import org.jspecify.annotations.NullMarked;
