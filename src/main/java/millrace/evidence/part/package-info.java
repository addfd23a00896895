// SPDX-License-Identifier: Apache-2.0
/**
 * What a person measures of a part of a unit, with an instrument that is not of the bench. Read
 * {@link millrace.evidence.part.PartValue} first. Knows only quantity. Everything is immutable and
 * thread-safe.
 */
@NullMarked
package millrace.evidence.part;

import org.jspecify.annotations.NullMarked;
