// SPDX-License-Identifier: Apache-2.0
/**
 * Lets a run look at its plan again between stays: planning wired into the run (methods.md 12). One
 * thread at a time.
 */
@NullMarked
package millrace.night.adaptive;

import org.jspecify.annotations.NullMarked;
