// SPDX-License-Identifier: Apache-2.0
/**
 * Who watches a run and who steers it: what observers hear, whom questions go to, and how others
 * ask that it stop, pause or leave something out. Read {@link millrace.run.control.RunObserver}
 * first. Knows nothing of how a run measures. A stop request may be made from any thread.
 */
@NullMarked
package millrace.run.control;

import org.jspecify.annotations.NullMarked;
