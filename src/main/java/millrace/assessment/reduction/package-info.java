// SPDX-License-Identifier: Apache-2.0
/**
 * From readings to currents at voltages, with every error by name: on a bench by its file,
 * elsewhere by what was stated. Read {@link millrace.assessment.reduction.BenchReadingReduction}
 * first. Judges nothing. One thread at a time.
 */
@NullMarked
package millrace.assessment.reduction;

import org.jspecify.annotations.NullMarked;
