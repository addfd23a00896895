// SPDX-License-Identifier: Apache-2.0
/**
 * The fewest points by which production separates good boards from bad ones at stated risks, and
 * when a board may end early (methods.md 12). Read {@link millrace.planning.boards.BoardSearch}
 * first.
 */
@NullMarked
package millrace.planning.boards;

import org.jspecify.annotations.NullMarked;
