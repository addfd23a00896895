// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.series;

import java.util.List;
import java.util.OptionalDouble;
import millrace.analysis.settling.SoakJudge;

/**
 * The soak of the unit to a temperature.
 *
 * @param stay number of the stay in the run, from 0
 * @param setpointDegC setpoint of the chamber, degC
 * @param range the range that was measured
 * @param samples in the order of time
 * @param leftRatio the residual of the soak, a ratio with 2 u; empty if it cannot be determined
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
