// SPDX-License-Identifier: Apache-2.0
/**
 * Currents over time: drift, noise, settling, warm-up, and the residual error of soaks. Read {@link
 * millrace.assessment.series.SeriesResults} first. Judges nothing. One thread at a time.
 */
@NullMarked
package millrace.assessment.series;

import org.jspecify.annotations.NullMarked;
