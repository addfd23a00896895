// SPDX-License-Identifier: Apache-2.0
/**
 * Points and readings that do not count: withdrawn by a remark, without a source at work, or off
 * what is beside them. Read {@link millrace.assessment.screening.ImportedOutlierScreening} first.
 * What is left out is told among the notes.
 */
@NullMarked
package millrace.assessment.screening;

import org.jspecify.annotations.NullMarked;
