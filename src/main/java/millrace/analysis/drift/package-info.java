// SPDX-License-Identifier: Apache-2.0
/**
 * Whether values drift while they come in: control charts that see small shifts, on scores that
 * need no earlier knowledge of mean and spread (methods.md 8.1).
 */
@NullMarked
package millrace.analysis.drift;

import org.jspecify.annotations.NullMarked;
