// SPDX-License-Identifier: Apache-2.0
/**
 * Who may ask, and how often; read {@link millrace.watch.guard.RequestGuard} first. It knows
 * nothing of runs and pages.
 */
@NullMarked
package millrace.watch.guard;

import org.jspecify.annotations.NullMarked;
