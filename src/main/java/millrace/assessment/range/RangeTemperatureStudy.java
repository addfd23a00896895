// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.range;

import java.util.OptionalDouble;
import millrace.analysis.temperature.TemperatureStudy;

/**
 * The temperature study of one range.
 *
 * @param range the range
 * @param study the study
 * @param oneLoadV voltage at the terminals if it was measured at one load only, V; empty if loads
 *     differ: the currents are then those at the reference load
 */
public record RangeTemperatureStudy(
    String range, TemperatureStudy study, OptionalDouble oneLoadV) {}
