// SPDX-License-Identifier: Apache-2.0
/**
 * Computes results from the logbook's data of a run: the only place that combines readings, files
 * and the measurement science. Read {@link millrace.assessment.Assessor} first. Knows nothing of
 * running a bench, pages or commands. Pure but for reading; one thread per assessment.
 */
@NullMarked
package millrace.assessment;

import org.jspecify.annotations.NullMarked;
