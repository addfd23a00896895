// SPDX-License-Identifier: Apache-2.0
/**
 * The constants by which the currents of a unit are corrected, what error they leave, and whether a
 * later run bears that out. Read {@link millrace.assessment.correction.UnitCorrectionConstants}
 * first. Stateless functions; must not know reports or commands.
 */
@NullMarked
package millrace.assessment.correction;

import org.jspecify.annotations.NullMarked;
