// SPDX-License-Identifier: Apache-2.0
/** The page of a bench: its user, its certificates, its last check, and a drawing of its wiring. */
@NullMarked
package millrace.watch.bench;

import org.jspecify.annotations.NullMarked;
