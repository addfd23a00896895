// SPDX-License-Identifier: Apache-2.0
/**
 * Stored and computed data as plain records, so that the logbook and the analysis share types
 * without knowing one another. Read {@link millrace.evidence.Result} and {@link
 * millrace.evidence.Reading} first. Knows only quantity. Everything is immutable and thread-safe.
 */
@NullMarked
package millrace.evidence;

import org.jspecify.annotations.NullMarked;
