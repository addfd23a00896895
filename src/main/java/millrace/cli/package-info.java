/**
 * The commands and their options, and the only room that knows exit codes. Read {@link
 * millrace.cli.Main} first. May know every room. Commands run on the main thread.
 */
@NullMarked
package millrace.cli;

import org.jspecify.annotations.NullMarked;
