// SPDX-License-Identifier: Apache-2.0
/**
 * Who issues what leaves the house: name, address, people and how certificates are numbered. Read
 * {@link millrace.laboratory.Laboratory} first. Knows only the leaves. Everything is immutable and
 * thread-safe.
 */
@NullMarked
package millrace.laboratory;

import org.jspecify.annotations.NullMarked;
