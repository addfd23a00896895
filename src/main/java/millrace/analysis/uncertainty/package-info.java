// SPDX-License-Identifier: Apache-2.0
/**
 * First-order propagation of named, independent errors (JCGM 100:2008), and its validation by Monte
 * Carlo (JCGM 101:2008). Read {@link millrace.analysis.uncertainty.Estimate} first. Knows nothing
 * of what the numbers are of. Pure functions on immutable values; thread-safe.
 */
@NullMarked
package millrace.analysis.uncertainty;

import org.jspecify.annotations.NullMarked;
