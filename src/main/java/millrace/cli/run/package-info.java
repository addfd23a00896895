// SPDX-License-Identifier: Apache-2.0
/**
 * Commands that measure, or tell what will be or is being measured; the watchdog's process starts
 * here, too. Read {@link millrace.cli.run.RunCommand} first.
 */
@NullMarked
package millrace.cli.run;

import org.jspecify.annotations.NullMarked;
