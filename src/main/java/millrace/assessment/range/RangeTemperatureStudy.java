// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.range;

import millrace.analysis.temperature.TemperatureStudy;

/**
 * How one range moves with temperature.
 *
 * @param range the range
 * @param study the study
 */
public record RangeTemperatureStudy(String range, TemperatureStudy study) {}
