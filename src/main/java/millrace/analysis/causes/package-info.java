// SPDX-License-Identifier: Apache-2.0
/**
 * Where an error comes from: a sparse physical model over all ranges, loads and temperatures
 * (methods.md 9). Read {@link millrace.analysis.causes.ErrorCauseDiagnosis} first. Knows nothing of
 * files or of how a current was measured beyond its uncertainty. Pure functions on immutable
 * values; thread-safe.
 */
@NullMarked
package millrace.analysis.causes;

import org.jspecify.annotations.NullMarked;
