// SPDX-License-Identifier: Apache-2.0
/**
 * The constants that correct the currents of a unit, their residual error, and its check by a later
 * run. Read {@link millrace.assessment.correction.UnitCorrectionConstants} first. Stateless
 * functions; must not know reports or commands.
 */
@NullMarked
package millrace.assessment.correction;

import org.jspecify.annotations.NullMarked;
