// SPDX-License-Identifier: Apache-2.0
/**
 * The byte path to an instrument: sockets and serial lines, framing of replies, time-outs. Read
 * {@link millrace.link.Link} first. Knows only the leaves, and nothing of what replies mean. A link
 * is thread-safe: one conversation at a time; time-outs count real monotonic time.
 */
@NullMarked
package millrace.link;

import org.jspecify.annotations.NullMarked;
