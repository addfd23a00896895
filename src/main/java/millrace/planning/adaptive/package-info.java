// SPDX-License-Identifier: Apache-2.0
/**
 * Which of the points that a run still has before it are needed, by what it has measured
 * (methods.md 12). Read {@link millrace.planning.adaptive.NextStays} first. Pure: reads no run and
 * changes none.
 */
@NullMarked
package millrace.planning.adaptive;

import org.jspecify.annotations.NullMarked;
