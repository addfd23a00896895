/**
 * The commands, and the only room that knows exit codes and standard streams. Read {@link
 * millrace.cli.Main} first. May know every room. Commands run on the main thread.
 */
@NullMarked
package millrace.cli;

import org.jspecify.annotations.NullMarked;
