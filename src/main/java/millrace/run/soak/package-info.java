// SPDX-License-Identifier: Apache-2.0
/**
 * Brings units to a temperature and tells when they are there. Read {@link millrace.run.soak.Soak}
 * first. Takes no reading of a point. The thread of the run alone.
 */
@NullMarked
package millrace.run.soak;

import org.jspecify.annotations.NullMarked;
