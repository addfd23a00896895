// SPDX-License-Identifier: Apache-2.0
/**
 * Sets the conditions of a point without ever opening a live current loop. Read {@link
 * millrace.run.condition.ConditionSetter} first. Knows nothing of readings. The thread of the run
 * alone.
 */
@NullMarked
package millrace.run.condition;

import org.jspecify.annotations.NullMarked;
