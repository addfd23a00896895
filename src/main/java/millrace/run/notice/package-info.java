// SPDX-License-Identifier: Apache-2.0
/**
 * Tells people who are elsewhere how a run goes and how it ended. Read {@link
 * millrace.run.notice.Notices} first. Knows what an observer of a run is told; knows no terminal
 * and no exit code. One thread at a time.
 */
@NullMarked
package millrace.run.notice;

import org.jspecify.annotations.NullMarked;
