// SPDX-License-Identifier: Apache-2.0
/**
 * The roles of instruments in a run, as small interfaces, and the interface of a driver. Read
 * {@link millrace.bench.role.Instrument} first. Knows link and the leaves. A role is used by one
 * thread at a time; instruments that share a link queue on it.
 */
@NullMarked
package millrace.bench.role;

import org.jspecify.annotations.NullMarked;
