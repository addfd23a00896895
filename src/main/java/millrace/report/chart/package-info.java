// SPDX-License-Identifier: Apache-2.0
/**
 * The charts of a run and their contents. Read {@link millrace.report.chart.LoadCharts} first.
 * Knows how to draw a plot, and knows no page. One thread per chart.
 */
@NullMarked
package millrace.report.chart;

import org.jspecify.annotations.NullMarked;
