// SPDX-License-Identifier: Apache-2.0
/**
 * Locks between processes. Read {@link millrace.lock.ProcessLock} first. Knows nothing of what is
 * locked. Thread-safe.
 */
@NullMarked
package millrace.lock;

import org.jspecify.annotations.NullMarked;
