// SPDX-License-Identifier: Apache-2.0
/**
 * Forecasts of a run before it is measured (methods.md 12). Knows assessments and the files that a
 * run is made from; runs nothing.
 */
@NullMarked
package millrace.planning;

import org.jspecify.annotations.NullMarked;
