// SPDX-License-Identifier: Apache-2.0
/**
 * The accuracy that each meter needs so that limits are decided (methods.md 12): the inverse of the
 * forecast of a run. Read {@link millrace.planning.meters.AccuracySearch} first.
 */
@NullMarked
package millrace.planning.meters;

import org.jspecify.annotations.NullMarked;
