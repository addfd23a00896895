// SPDX-License-Identifier: Apache-2.0
/**
 * Results against limits (methods.md 7). Read {@link millrace.analysis.conformity.Judge} first.
 * Pure functions; thread-safe.
 */
@NullMarked
package millrace.analysis.conformity;

import org.jspecify.annotations.NullMarked;
