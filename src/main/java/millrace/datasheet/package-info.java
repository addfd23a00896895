// SPDX-License-Identifier: Apache-2.0
/**
 * What a kind of unit promises: ranges, limits with their conditions, decision rule, and what each
 * range is made of. Read {@link millrace.datasheet.Datasheet} first. Knows only the leaves.
 * Everything is immutable and thread-safe.
 */
@NullMarked
package millrace.datasheet;

import org.jspecify.annotations.NullMarked;
