// SPDX-License-Identifier: Apache-2.0
/**
 * Communication with a person at a terminal: the console with its three streams, questions and
 * typed answers, progress, folding, signals. Read {@link millrace.terminal.Console} first. Knows
 * the outside interfaces of a run (observer, operator, stop request), the operator of instruments
 * by hand, and the leaves; no exit code. Typed lines are read in a thread of their own.
 */
@NullMarked
package millrace.terminal;

import org.jspecify.annotations.NullMarked;
