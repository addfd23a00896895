// SPDX-License-Identifier: Apache-2.0
/**
 * Lets a run revise its plan between stays: connects planning with the run (methods.md 12). One
 * thread at a time.
 */
@NullMarked
package millrace.night.adaptive;

import org.jspecify.annotations.NullMarked;
