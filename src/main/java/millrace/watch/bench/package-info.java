// SPDX-License-Identifier: Apache-2.0
/** The page of a bench: who has it, its certificates, its last check, and its wiring drawn. */
@NullMarked
package millrace.watch.bench;

import org.jspecify.annotations.NullMarked;
