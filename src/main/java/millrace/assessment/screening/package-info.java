// SPDX-License-Identifier: Apache-2.0
/**
 * Excludes points and readings that do not count: withdrawn by a remark, taken without a working
 * source, or outlying. Read {@link millrace.assessment.screening.ImportedOutlierScreening} first.
 * The notes name what is excluded.
 */
@NullMarked
package millrace.assessment.screening;

import org.jspecify.annotations.NullMarked;
