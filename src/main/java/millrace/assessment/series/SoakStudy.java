// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.series;

import java.util.List;
import java.util.OptionalDouble;
import millrace.analysis.settling.SoakJudge;

/**
 * How the unit came to a temperature.
 *
 * @param stay which stay of the run, from 0
 * @param setpointDegC what the chamber was set to, degC
 * @param range the range whose current was watched
 * @param samples in the order of time
 * @param leftRatio what the soak left, a ratio with 2 u; empty if it cannot be told
 * @param decision how it ended, in words
 */
public record SoakStudy(
    int stay,
    double setpointDegC,
    String range,
    List<SoakJudge.Sample> samples,
    OptionalDouble leftRatio,
    String decision) {
  /** Copies the list. */
  public SoakStudy {
    samples = List.copyOf(samples);
  }
}
