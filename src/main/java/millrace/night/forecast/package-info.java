// SPDX-License-Identifier: Apache-2.0
/**
 * A run before it is measured: the runner itself goes through the plan with a unit as it is
 * expected and with instruments that have no errors, in virtual time. What comes of it is reduced
 * and assessed like any run, so that each uncertainty is the one that the real run would have
 * (methods.md 12).
 */
@NullMarked
package millrace.night.forecast;

import org.jspecify.annotations.NullMarked;
