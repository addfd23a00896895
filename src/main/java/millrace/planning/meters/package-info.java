// SPDX-License-Identifier: Apache-2.0
/**
 * How accurate each meter has to be so that limits are decided (methods.md 12): the forecast of a
 * run, asked the other way round. Read {@link millrace.planning.meters.AccuracySearch} first.
 */
@NullMarked
package millrace.planning.meters;

import org.jspecify.annotations.NullMarked;
