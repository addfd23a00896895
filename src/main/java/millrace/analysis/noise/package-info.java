// SPDX-License-Identifier: Apache-2.0
/**
 * Slow noise: which law the noise of readings follows, told by the readings themselves and by a
 * long record beside, and what that makes of any weighted mean of readings (methods.md 2.1, 5.10,
 * 6.3). Read {@link millrace.analysis.noise.NoiseLaws} first. Pure functions; thread-safe.
 */
@NullMarked
package millrace.analysis.noise;

import org.jspecify.annotations.NullMarked;
