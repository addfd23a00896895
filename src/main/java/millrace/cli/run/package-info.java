// SPDX-License-Identifier: Apache-2.0
/**
 * Commands that measure, or show a future or present run; the watchdog's process starts here, too.
 * Read {@link millrace.cli.run.RunCommand} first.
 */
@NullMarked
package millrace.cli.run;

import org.jspecify.annotations.NullMarked;
