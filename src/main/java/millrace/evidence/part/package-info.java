// SPDX-License-Identifier: Apache-2.0
/**
 * Values of parts that a person measures with an instrument outside the bench. Read {@link
 * millrace.evidence.part.PartValue} first. Knows only quantity. Everything is immutable and
 * thread-safe.
 */
@NullMarked
package millrace.evidence.part;

import org.jspecify.annotations.NullMarked;
