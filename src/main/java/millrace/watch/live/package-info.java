// SPDX-License-Identifier: Apache-2.0
/**
 * Runs as they go on: read again and again, and asked for something; read {@link
 * millrace.watch.live.LiveRun} first. It knows nothing of HTTP.
 */
@NullMarked
package millrace.watch.live;

import org.jspecify.annotations.NullMarked;
