// SPDX-License-Identifier: Apache-2.0
/**
 * What is stored and what is computed, as plain records, so that the logbook and the analysis speak
 * of the same things without knowing one another. Read {@link millrace.evidence.Result} and {@link
 * millrace.evidence.Reading} first. Knows only quantity. Everything is immutable and thread-safe.
 */
@NullMarked
package millrace.evidence;

import org.jspecify.annotations.NullMarked;
