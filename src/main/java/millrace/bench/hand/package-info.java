// SPDX-License-Identifier: Apache-2.0
/**
 * Instruments that a person sets and reads: the commonest bench of all. Read {@link
 * millrace.bench.hand.ByHand} first. Knows roles and the leaves. One question to the person at a
 * time.
 */
@NullMarked
package millrace.bench.hand;

import org.jspecify.annotations.NullMarked;
