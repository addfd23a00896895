// SPDX-License-Identifier: Apache-2.0
/**
 * Fits: on arrays ({@link millrace.analysis.regression.LinearFit}) and through estimates, so that
 * correlated errors propagate into coefficients. Read {@link
 * millrace.analysis.regression.LinearFitOfEstimates} first. Knows nothing of what the numbers are
 * of. Pure functions on immutable values; thread-safe.
 */
@NullMarked
package millrace.analysis.regression;

import org.jspecify.annotations.NullMarked;
