// SPDX-License-Identifier: Apache-2.0
/**
 * Where to measure so that a few numbers are known best: exact optimal designs. Read {@link
 * millrace.analysis.optimum.ExactDesign} first. Pure; thread-safe.
 */
@NullMarked
package millrace.analysis.optimum;

import org.jspecify.annotations.NullMarked;
