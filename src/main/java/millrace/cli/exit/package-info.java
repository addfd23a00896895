// SPDX-License-Identifier: Apache-2.0
/**
 * How a command ends: exit codes, what an assessment means for them, errors as sentences. Read
 * {@link millrace.cli.exit.ExitCode} first. Knows no command.
 */
@NullMarked
package millrace.cli.exit;

import org.jspecify.annotations.NullMarked;
