// SPDX-License-Identifier: Apache-2.0
package millrace.run.soak;

import java.util.List;
import java.util.Optional;
import millrace.analysis.settling.SoakJudge.Sample;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/** Detects a chamber that stands still away from its set point. */
final class StuckChamber {
  /** Sensors of chambers are rarely better than this, K (common practice, no source). */
  static final double MOST_OFF_K = 1;

  private static final double STILL_K = 0.5;
  private static final double STILL_S = 600;

  private StuckChamber() {}

  /**
   * The message about it.
   *
   * @param samples the looks at a unit, by time
   * @param setpointDegC where the chamber was sent, degC
   * @return a part of a sentence; empty while it moves, and where it is near enough
   */
  static Optional<String> words(List<Sample> samples, double setpointDegC) {
    if (samples.isEmpty()) {
      return Optional.empty();
    }
    Sample last = samples.get(samples.size() - 1);
    double now = degC(last);
    double offK = Math.abs(setpointDegC - now);
    if (offK <= MOST_OFF_K || !still(samples, last.timeS(), now)) {
      return Optional.empty();
    }
    boolean shy = (setpointDegC - degC(samples.get(0))) * (setpointDegC - now) >= 0;
    return Optional.of(
        "%s stands still at %s, %s %s its set point"
            .formatted(
                last.airDegC().isPresent() ? "the chamber" : "the unit",
                QuantityText.print(now, Dimension.TEMPERATURE, 3),
                QuantityText.print(offK, Dimension.TEMPERATURE_DIFFERENCE, 2),
                shy ? "short of" : "beyond"));
  }

  private static boolean still(List<Sample> samples, double t, double degC) {
    boolean longEnough = samples.get(0).timeS() <= t - STILL_S;
    return longEnough
        && samples.stream()
            .filter(s -> s.timeS() >= t - STILL_S)
            .allMatch(s -> Math.abs(degC(s) - degC) <= STILL_K);
  }

  /** By the chamber's own reading if it can be read, else by the unit's thermometer. */
  private static double degC(Sample sample) {
    return sample.airDegC().orElse(sample.temperatureDegC());
  }
}
