// SPDX-License-Identifier: Apache-2.0
/**
 * The end of a command: exit codes, their meaning for an assessment, errors as sentences. Read
 * {@link millrace.cli.exit.ExitCode} first. Knows no command.
 */
@NullMarked
package millrace.cli.exit;

import org.jspecify.annotations.NullMarked;
