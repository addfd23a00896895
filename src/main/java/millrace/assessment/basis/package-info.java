// SPDX-License-Identifier: Apache-2.0
/**
 * The basis of a judgement: datasheet, bench file, and the type run that supplies coefficients.
 * Read {@link millrace.assessment.basis.JudgementBasis} first. Computes nothing. Immutable.
 */
@NullMarked
package millrace.assessment.basis;

import org.jspecify.annotations.NullMarked;
