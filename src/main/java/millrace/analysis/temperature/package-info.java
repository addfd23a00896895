// SPDX-License-Identifier: Apache-2.0
/**
 * How the current moves with temperature (methods.md 5). Read {@link
 * millrace.analysis.temperature.TemperatureStudy} first. Pure functions; thread-safe.
 */
@NullMarked
package millrace.analysis.temperature;

import org.jspecify.annotations.NullMarked;
