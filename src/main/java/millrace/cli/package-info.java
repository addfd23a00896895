// SPDX-License-Identifier: Apache-2.0
/**
 * The commands by name, and where the process starts. Read {@link millrace.cli.Main} first. May
 * know every room; only here and in the packages below it options and exit codes are known.
 * Commands run on the main thread.
 */
@NullMarked
package millrace.cli;

import org.jspecify.annotations.NullMarked;
