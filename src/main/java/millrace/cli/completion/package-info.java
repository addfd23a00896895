// SPDX-License-Identifier: Apache-2.0
/**
 * What the tab key offers. Read {@link millrace.cli.completion.TabCompletion} first. Knows how
 * words of a command line are declared, and no command by name; reads logbook and bench file,
 * writes nothing.
 */
@NullMarked
package millrace.cli.completion;

import org.jspecify.annotations.NullMarked;
