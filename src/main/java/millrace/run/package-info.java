// SPDX-License-Identifier: Apache-2.0
/**
 * Executes a plan, point by point. Read {@link millrace.run.Runner} first. Knows sequence, bench,
 * datasheet, logbook, analysis (settle rules) and the leaves. One run is one thread; only {@link
 * millrace.run.control.StopRequest} may be used from others.
 */
@NullMarked
package millrace.run;

import org.jspecify.annotations.NullMarked;
