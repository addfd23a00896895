// SPDX-License-Identifier: Apache-2.0
/**
 * Physical quantities as people write them: the one place that reads and prints numbers with units.
 * Read {@link millrace.quantity.QuantityText} first. Knows only fault. Everything is immutable and
 * thread-safe.
 */
@NullMarked
package millrace.quantity;

import org.jspecify.annotations.NullMarked;
