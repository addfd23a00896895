// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import java.util.List;
import java.util.Optional;
import millrace.analysis.uncertainty.CorrelatedNoise;
import millrace.analysis.uncertainty.Estimate;

/**
 * A fit of I/I_ref - 1 over T - T_ref.
 *
 * @param ppmPerK the slope, at T_ref where there is a quadratic term, ppm/K
 * @param interceptPpm at T_ref, ppm
 * @param quadraticPpmPerK2 the quadratic coefficient, ppm/K2; exact 0 for a straight line
 * @param driftPpmPerS the drift that was fitted beside, ppm/s; empty where none was
 * @param residualsPpm stay minus fit, in the order of time, ppm
 */
public record TemperatureLine(
    Estimate ppmPerK,
    Estimate interceptPpm,
    Estimate quadraticPpmPerK2,
    Optional<Estimate> driftPpmPerS,
    List<Double> residualsPpm) {

  /** Copies the list. */
  public TemperatureLine {
    residualsPpm = List.copyOf(residualsPpm);
  }

  /**
   * Tells whether a drift was fitted beside.
   *
   * @return true with a time term
   */
  public boolean timeTerm() {
    return driftPpmPerS.isPresent();
  }

  /** What its coefficients ask of noise that visits share. */
  CorrelatedNoise.Use use() {
    return timeTerm() ? CorrelatedNoise.Use.VISITS_AND_TIME : CorrelatedNoise.Use.VISITS;
  }

  /**
   * The fit at a temperature, at the mean time of the stays.
   *
   * @param aboveReferenceK T - T_ref, K
   * @return I/I_ref - 1, ppm
   */
  public Estimate at(double aboveReferenceK) {
    return Estimate.combine(
        0,
        new double[] {1, aboveReferenceK, aboveReferenceK * aboveReferenceK},
        List.of(interceptPpm, ppmPerK, quadraticPpmPerK2));
  }
}
