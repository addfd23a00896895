// SPDX-License-Identifier: Apache-2.0
/**
 * Options that several commands share, and what they open. Read {@link
 * millrace.cli.option.BenchOptions} first. Knows no command.
 */
@NullMarked
package millrace.cli.option;

import org.jspecify.annotations.NullMarked;
