// SPDX-License-Identifier: Apache-2.0
/**
 * Where the scatter of values comes from: components of variance of several factors at once, nested
 * or crossed (methods.md 8.2).
 */
@NullMarked
package millrace.analysis.variance;

import org.jspecify.annotations.NullMarked;
