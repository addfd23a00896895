// SPDX-License-Identifier: Apache-2.0
/**
 * Runs in progress: read repeatedly, and sent requests; read {@link millrace.watch.live.LiveRun}
 * first. It knows nothing of HTTP.
 */
@NullMarked
package millrace.watch.live;

import org.jspecify.annotations.NullMarked;
