// SPDX-License-Identifier: Apache-2.0
/**
 * Plots as inline SVG that can be read without colour, without a network and without a script. Read
 * {@link millrace.report.plot.Chart} first. Knows numbers and markup; knows nothing of units under
 * test. Everything is immutable and thread-safe, except what is being written.
 */
@NullMarked
package millrace.report.plot;

import org.jspecify.annotations.NullMarked;
