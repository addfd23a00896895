// SPDX-License-Identifier: Apache-2.0
/**
 * From what the logbook holds of a run to results: the one place where readings, files and the
 * measurement science meet. Read {@link millrace.assessment.Assessor} first. Knows nothing of
 * running a bench, pages or commands. Pure but for reading; one thread per assessment.
 */
@NullMarked
package millrace.assessment;

import org.jspecify.annotations.NullMarked;
