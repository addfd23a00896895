// SPDX-License-Identifier: Apache-2.0
/**
 * A run before it is measured: the runner executes the plan in virtual time, with a unit as
 * expected and instruments without errors. The readings are reduced and assessed like those of any
 * run, so that each uncertainty is that of the real run (methods.md 12).
 */
@NullMarked
package millrace.night.forecast;

import org.jspecify.annotations.NullMarked;
