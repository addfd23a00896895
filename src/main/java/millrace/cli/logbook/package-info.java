// SPDX-License-Identifier: Apache-2.0
/**
 * Commands that list, show, add to, import and export what a logbook keeps. Read {@link
 * millrace.cli.logbook.RunsCommand} first.
 */
@NullMarked
package millrace.cli.logbook;

import org.jspecify.annotations.NullMarked;
