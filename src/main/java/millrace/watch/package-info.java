// SPDX-License-Identifier: Apache-2.0
/**
 * Pages of runs for people elsewhere, served from this machine; read {@link
 * millrace.watch.WatchServer} first. The one room that answers over HTTP; it speaks to no
 * instrument, reads the logbook without disturbing a run, and asks of a run what any other terminal
 * may ask.
 */
@NullMarked
package millrace.watch;

import org.jspecify.annotations.NullMarked;
