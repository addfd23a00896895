// SPDX-License-Identifier: Apache-2.0
/**
 * Checks the instruments of an open bench, one after another, and reports what was found. Read
 * {@link millrace.bench.check.BenchCheckFinding} first. Knows bench and the leaves; knows no
 * sequence, no unit and no logbook. One thread at a time.
 */
@NullMarked
package millrace.bench.check;

import org.jspecify.annotations.NullMarked;
