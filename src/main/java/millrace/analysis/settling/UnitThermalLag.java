// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.settling;

import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.regression.LinearFit;

/**
 * How a unit follows the air around it, dT/dt = (T_air + d - T)/tau: Newton's law of cooling, with
 * d for what the two thermometers differ by. Integrated, T(t) = c + S(t)/tau + (d/tau) t, S being
 * the integral of T_air - T by trapezoids; least squares for c, 1/tau and d/tau, errors as AR(1)
 * (methods.md 6.1; common practice, no source). It needs no exponential: the ramp and the overshoot
 * of the chamber are in the air's own readings.
 *
 * @param tauS time constant, s
 * @param aboveAirK d, K
 * @param uK standard uncertainty of d, K
 */
record UnitThermalLag(double tauS, double aboveAirK, double uK) {
  private static final int LEAST_SAMPLES = 12;

  /** So much must the distance of unit and air have changed, K. */
  private static final double LEAST_CHANGE_K = 0.5;

  /** Fits readings of air and unit, taken at the same times in rising order. */
  static Optional<UnitThermalLag> of(double[] timeS, double[] airDegC, double[] unitDegC) {
    int n = timeS.length;
    if (n < LEAST_SAMPLES || change(airDegC, unitDegC) < LEAST_CHANGE_K) {
      return Optional.empty();
    }
    double[] ones = new double[n];
    Arrays.fill(ones, 1);
    double[] since = Arrays.stream(timeS).map(t -> t - timeS[0]).toArray();
    double[][] columns = {ones, integral(timeS, airDegC, unitDegC), since};
    LinearFit fit = LinearFit.of(columns, unitDegC, ones);
    double rate = fit.coefficient(1);
    if (!(rate > 0)) {
      return Optional.empty();
    }
    double above = fit.coefficient(2) / rate;
    double squares = 0;
    double[] ofRate = fit.estimator(1);
    double[] ofAbove = fit.estimator(2);
    for (int i = 0; i < n; i++) {
      double weight = (ofAbove[i] - above * ofRate[i]) / rate;
      squares += weight * weight;
    }
    double scatter = Math.sqrt(fit.chiSquared() / (n - 3));
    double u = scatter * Math.sqrt(squares) * AutocorrelationWidening.factor(fit.residuals());
    return Optional.of(new UnitThermalLag(1 / rate, above, u));
  }

  private static double change(double[] airDegC, double[] unitDegC) {
    double least = Double.POSITIVE_INFINITY;
    double most = Double.NEGATIVE_INFINITY;
    for (int i = 0; i < airDegC.length; i++) {
      least = Math.min(least, airDegC[i] - unitDegC[i]);
      most = Math.max(most, airDegC[i] - unitDegC[i]);
    }
    return most - least;
  }

  private static double[] integral(double[] timeS, double[] airDegC, double[] unitDegC) {
    double[] sum = new double[timeS.length];
    for (int i = 1; i < sum.length; i++) {
      double mean = (airDegC[i] - unitDegC[i] + airDegC[i - 1] - unitDegC[i - 1]) / 2;
      sum[i] = sum[i - 1] + mean * (timeS[i] - timeS[i - 1]);
    }
    return sum;
  }

  /**
   * Where the unit comes to rest: above the resting air. That is the mean of the air's last
   * readings where they are steady, else what the chamber was set to.
   *
   * @param lastAirDegC the last readings, not empty
   * @param setpointDegC where the chamber goes, degC
   * @param steadyK how far apart steady readings may lie, K
   */
  double restDegC(double[] lastAirDegC, double setpointDegC, double steadyK) {
    double least = Arrays.stream(lastAirDegC).min().orElse(setpointDegC);
    double most = Arrays.stream(lastAirDegC).max().orElse(setpointDegC);
    OptionalDouble mean = Arrays.stream(lastAirDegC).average();
    return (most - least < steadyK ? mean.orElse(setpointDegC) : setpointDegC) + aboveAirK;
  }
}
