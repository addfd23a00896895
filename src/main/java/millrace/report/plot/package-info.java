// SPDX-License-Identifier: Apache-2.0
/**
 * Plots as inline SVG, readable without colour, network or script. Read {@link
 * millrace.report.plot.Chart} first. Knows numbers and markup; knows nothing of units under test.
 * All types are immutable and thread-safe, except the writers.
 */
@NullMarked
package millrace.report.plot;

import org.jspecify.annotations.NullMarked;
