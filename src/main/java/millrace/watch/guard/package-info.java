// SPDX-License-Identifier: Apache-2.0
/**
 * Access and rate limits; read {@link millrace.watch.guard.RequestGuard} first. It knows nothing of
 * runs and pages.
 */
@NullMarked
package millrace.watch.guard;

import org.jspecify.annotations.NullMarked;
