// SPDX-License-Identifier: Apache-2.0
/**
 * Which curves a run shows, and what is drawn into them. Read {@link
 * millrace.report.chart.LoadCharts} first. Knows how a plot is drawn, and no page. One thread per
 * chart.
 */
@NullMarked
package millrace.report.chart;

import org.jspecify.annotations.NullMarked;
