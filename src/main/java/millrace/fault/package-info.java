// SPDX-License-Identifier: Apache-2.0
/**
 * The error family, a place in a file, and the list of faults found. Read {@link
 * millrace.fault.InputFault} first. Knows no other room. Exceptions and records are immutable; the
 * list of faults is single-threaded.
 */
@NullMarked
package millrace.fault;

import org.jspecify.annotations.NullMarked;
