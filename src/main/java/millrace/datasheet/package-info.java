// SPDX-License-Identifier: Apache-2.0
/**
 * The specification of a kind of unit: ranges, limits with their conditions, decision rule, and the
 * parts of each range. Read {@link millrace.datasheet.Datasheet} first. Knows only the leaves.
 * Everything is immutable and thread-safe.
 */
@NullMarked
package millrace.datasheet;

import org.jspecify.annotations.NullMarked;
