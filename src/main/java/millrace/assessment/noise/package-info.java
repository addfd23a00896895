// SPDX-License-Identifier: Apache-2.0
/**
 * How readings scatter: pooled over points that were taken alike, between repeats, and slowly, by
 * records over time. Read {@link millrace.assessment.noise.NoisePools} first. Knows no bench file.
 * One thread at a time.
 */
@NullMarked
package millrace.assessment.noise;

import org.jspecify.annotations.NullMarked;
