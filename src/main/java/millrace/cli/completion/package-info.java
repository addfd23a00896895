// SPDX-License-Identifier: Apache-2.0
/**
 * Tab completion. Read {@link millrace.cli.completion.TabCompletion} first. Knows the declarations
 * of command line words, and no command by name; reads logbook and bench file, writes nothing.
 */
@NullMarked
package millrace.cli.completion;

import org.jspecify.annotations.NullMarked;
