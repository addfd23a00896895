// SPDX-License-Identifier: Apache-2.0
/**
 * Options shared by several commands, and the resources that they open. Read {@link
 * millrace.cli.option.BenchOptions} first. Knows no command.
 */
@NullMarked
package millrace.cli.option;

import org.jspecify.annotations.NullMarked;
