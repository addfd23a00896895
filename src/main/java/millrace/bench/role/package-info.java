// SPDX-License-Identifier: Apache-2.0
/**
 * What instruments do in a run, as small interfaces, and what a driver must give. Read {@link
 * millrace.bench.role.Instrument} first. Knows link and the leaves. A role is used by one thread at
 * a time; instruments that share a link queue on it.
 */
@NullMarked
package millrace.bench.role;

import org.jspecify.annotations.NullMarked;
