// SPDX-License-Identifier: Apache-2.0
/**
 * Benches over weeks: their checks with a reference unit, when they left their limits, and what was
 * tested since (methods.md 8.3).
 */
@NullMarked
package millrace.assessment.benches;

import org.jspecify.annotations.NullMarked;
