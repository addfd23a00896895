// SPDX-License-Identifier: Apache-2.0
/**
 * What a design predicts from its parts and their tolerances (methods.md 10). Read {@link
 * millrace.analysis.design.DesignPrediction} first. Knows nothing of files or of measured values.
 * Pure functions on immutable values; thread-safe.
 */
@NullMarked
package millrace.analysis.design;

import org.jspecify.annotations.NullMarked;
