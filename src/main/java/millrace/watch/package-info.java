// SPDX-License-Identifier: Apache-2.0
/**
 * Pages of runs for readers elsewhere, served from this machine; read {@link
 * millrace.watch.WatchServer} first. The only room that answers over HTTP; it sends nothing to
 * instruments, reads the logbook without disturbing a run, and may request of a run what any other
 * terminal may request.
 */
@NullMarked
package millrace.watch;

import org.jspecify.annotations.NullMarked;
