// SPDX-License-Identifier: Apache-2.0
/**
 * The commands by name, and the entry point of the process. Read {@link millrace.cli.Main} first.
 * May know every room; only this package and those below it know options and exit codes. Commands
 * run on the main thread.
 */
@NullMarked
package millrace.cli;

import org.jspecify.annotations.NullMarked;
