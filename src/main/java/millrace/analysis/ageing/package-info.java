// SPDX-License-Identifier: Apache-2.0
/**
 * Long-term drift of a unit from calibration to calibration, and when it leaves a limit (methods.md
 * 13). Read {@link millrace.analysis.ageing.DriftLine} first. Knows nothing of where values come
 * from. Pure; thread-safe.
 */
@NullMarked
package millrace.analysis.ageing;

import org.jspecify.annotations.NullMarked;
