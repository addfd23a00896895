// SPDX-License-Identifier: Apache-2.0
/**
 * Decides which of the remaining points of a run are still needed (methods.md 12). Read {@link
 * millrace.planning.adaptive.NextStays} first. Pure: it reads and changes no run.
 */
@NullMarked
package millrace.planning.adaptive;

import org.jspecify.annotations.NullMarked;
