// SPDX-License-Identifier: Apache-2.0
/**
 * The instruments that are connected: the bench file, and the open bench. Read {@link
 * millrace.bench.Bench} and {@link millrace.bench.BenchFile} first. Knows link, datasheet, document
 * and the leaves. Files are immutable; an open bench is used by one thread, except that {@link
 * millrace.bench.Bench#makeSafe} may come from any.
 */
@NullMarked
package millrace.bench;

import org.jspecify.annotations.NullMarked;
