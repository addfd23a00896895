// SPDX-License-Identifier: Apache-2.0
/**
 * Sequence files: what a run does. Read {@link millrace.sequence.SequenceFile} and {@link
 * millrace.sequence.Plan} first. Knows datasheet, document and the leaves; knows nothing of
 * instruments. Everything is immutable and thread-safe.
 */
@NullMarked
package millrace.sequence;

import org.jspecify.annotations.NullMarked;
