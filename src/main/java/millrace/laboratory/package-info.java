// SPDX-License-Identifier: Apache-2.0
/**
 * The issuer of documents: name, address, people and the numbering of certificates. Read {@link
 * millrace.laboratory.Laboratory} first. Knows only the leaves. Everything is immutable and
 * thread-safe.
 */
@NullMarked
package millrace.laboratory;

import org.jspecify.annotations.NullMarked;
