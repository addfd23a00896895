// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

/**
 * The overshoot of air after a ramp. With T the time constant of the air and L its lag when the
 * ramp ends, its deviation from the set point after the time t is (B t/T - L) exp(-t/T). B is
 * chosen so that the maximum, B exp(-1 - L/B) at t = T (1 + L/B), equals the requested overshoot.
 * Guarded by the circuit's lock.
 */
final class ChamberOvershoot {
  private double drive;
  private double kelvin;

  void kick(double strengthK) {
    drive += strengthK;
  }

  void step(double share) {
    kelvin += (drive - kelvin) * share;
    drive -= drive * share;
  }

  double kelvin() {
    return kelvin;
  }

  /**
   * B by bisection.
   *
   * @param highestK the requested overshoot, K, 0 or more
   * @param behindK L, K, 0 or more
   */
  static double strength(double highestK, double behindK) {
    double low = 0;
    double high = Math.E * highestK + Math.E * behindK + 1;
    if (highestK <= 0) {
      return 0;
    }
    for (int i = 0; i < 60; i++) {
      double middle = (low + high) / 2;
      if (middle * Math.exp(-1 - behindK / middle) < highestK) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return high;
  }
}
