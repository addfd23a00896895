// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.range;

import java.util.OptionalDouble;
import millrace.analysis.temperature.TemperatureStudy;

/**
 * How one range moves with temperature.
 *
 * @param range the range
 * @param study the study
 * @param oneLoadV voltage at the terminals where all of it was measured at one load, V; empty where
 *     loads differ: the currents are then those at the reference load
 */
public record RangeTemperatureStudy(
    String range, TemperatureStudy study, OptionalDouble oneLoadV) {}
