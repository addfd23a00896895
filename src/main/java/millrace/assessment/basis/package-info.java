// SPDX-License-Identifier: Apache-2.0
/**
 * What a run is judged by: datasheet, bench file, and the type run whose coefficients stand in.
 * Read {@link millrace.assessment.basis.JudgementBasis} first. Computes nothing. Immutable.
 */
@NullMarked
package millrace.assessment.basis;

import org.jspecify.annotations.NullMarked;
