// SPDX-License-Identifier: Apache-2.0
/**
 * From readings to currents at voltages, with each error by name: on a bench from its file, for
 * imports from the statements of the import. Read {@link
 * millrace.assessment.reduction.BenchReadingReduction} first. Judges nothing. One thread at a time.
 */
@NullMarked
package millrace.assessment.reduction;

import org.jspecify.annotations.NullMarked;
