// SPDX-License-Identifier: Apache-2.0
/**
 * The page of a shift that tests boards: outcome, what failed, what is next, and a place to scan.
 */
@NullMarked
package millrace.watch.shift;

import org.jspecify.annotations.NullMarked;
