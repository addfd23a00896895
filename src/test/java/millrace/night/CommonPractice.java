// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;

/**
 * What bench time is compared with: at each temperature a fixed hour from the chamber's first
 * reaching its setpoint, then 60 loads over the span that the shipped night covers in each range, 1
 * s of settling, 10 readings of 10 cycles at 50 Hz, a zero once per range and temperature, units
 * one after the other.
 */
final class CommonPractice {
  static final double[] ORDER_DEGC = {23, 5, 23, 35, 50, 23};

  private static final double RAMP_K_PER_MIN = 2;

  /** Air with a lag of 4 min and 3 K of overshoot first reaches the setpoint so long after. */
  private static final double BEHIND_MIN = 1.8;

  private static final double DWELL_MIN = 60;
  private static final int LOADS = 60;
  private static final int READINGS = 10;
  private static final double READING_S = 0.2;
  private static final double SETTLE_S = 1;

  private CommonPractice() {}

  private static double reachMin(double fromDegC, double toDegC) {
    double move = Math.abs(toDegC - fromDegC);
    return move == 0 ? 0 : move / RAMP_K_PER_MIN + BEHIND_MIN;
  }

  /**
   * Hours of one unit, nothing counted but ramps, dwell, settling and the current's own
   * integration: less than any bench would take.
   */
  static double leastHours(int ranges) {
    double minutes = 0;
    double before = ORDER_DEGC[0];
    for (double degC : ORDER_DEGC) {
      double range = (LOADS + 1) * (SETTLE_S + READINGS * READING_S) / 60;
      minutes += reachMin(before, degC) + DWELL_MIN + ranges * range;
      before = degC;
    }
    return minutes / 60;
  }

  /** The same as a sequence. */
  static Path sequence(Path folder) throws IOException {
    StringBuilder text =
        new StringBuilder("sequence: common practice\nreadings: {count: 10}\nsteps:\n");
    double before = ORDER_DEGC[0];
    for (double degC : ORDER_DEGC) {
      String dwell = String.format(Locale.ROOT, "%.1f min", reachMin(before, degC) + DWELL_MIN);
      text.append(
          """
            - at temperatures: %s degC
              ramp: 2 K/min
              soak: {at least: %s, at most: %s}
              do:
                - in ranges: all
                  do:
                    - zero
                    - over loads: {share of compliance: {from: 0 %%, to: 130 %%, points: 60}}
                      sweep: up
          """
              .formatted(Double.toString(degC), dwell, dwell));
      before = degC;
    }
    return Files.writeString(folder.resolve("common-practice.yaml"), text.toString());
  }
}
