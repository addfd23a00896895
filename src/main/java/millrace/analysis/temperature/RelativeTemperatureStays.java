// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import java.util.List;
import millrace.analysis.regression.LinearFit;
import millrace.analysis.uncertainty.Estimate;

/**
 * The stays of one range, counted relative to the current at T_ref (methods.md 5.1, 5.2), so that
 * errors which all temperatures share cancel (2.3). Immutable.
 */
final class RelativeTemperatureStays {
  private static final double PPM = 1e6;

  private final List<TemperaturePoint> points;
  private final double referenceDegC;
  private final List<TemperaturePoint> visits;
  private final Estimate referenceA;

  /**
   * Takes them up.
   *
   * @param points in the order of time; not empty
   * @param referenceDegC T_ref, degC
   */
  RelativeTemperatureStays(List<TemperaturePoint> points, double referenceDegC) {
    this.points = points;
    this.referenceDegC = referenceDegC;
    this.visits = points.stream().filter(p -> near(p, referenceDegC)).toList();
    this.referenceA =
        visits.isEmpty()
            ? fitted()
            : Estimate.mean(visits.stream().map(TemperaturePoint::currentA).toList());
  }

  static boolean near(TemperaturePoint p, double temperatureDegC) {
    return Math.abs(p.temperatureDegC().value() - temperatureDegC) <= TemperaturePoint.NEAR_K;
  }

  /** The current at T_ref by a straight line, where T_ref was not visited. */
  private Estimate fitted() {
    List<Estimate> currents = points.stream().map(TemperaturePoint::currentA).toList();
    if (temperatures() < 2) {
      return Estimate.mean(currents);
    }
    int n = points.size();
    double[] ones = new double[n];
    double[] above = new double[n];
    double[] y = new double[n];
    for (int i = 0; i < n; i++) {
      ones[i] = 1;
      above[i] = points.get(i).temperatureDegC().value() - referenceDegC;
      y[i] = currents.get(i).value();
    }
    LinearFit fit = LinearFit.of(new double[][] {ones, above}, y, ones);
    return Estimate.combine(0, fit.estimator(0), currents);
  }

  /** How many temperatures there are that are no visits to one another. */
  int temperatures() {
    double[] sorted =
        points.stream().mapToDouble(p -> p.temperatureDegC().value()).sorted().toArray();
    int count = 0;
    double first = Double.NEGATIVE_INFINITY;
    for (double each : sorted) {
      if (each > first + TemperaturePoint.NEAR_K) {
        first = each;
        count++;
      }
    }
    return count;
  }

  /** I/I_ref - 1 of one stay, ppm; what it shares with I_ref cancels. */
  Estimate ppm(TemperaturePoint p) {
    return p.currentA().over(referenceA).plus(-1).times(PPM);
  }

  /** How many ppm of I_ref an ampere is. */
  double ppmPerA() {
    return PPM / Math.abs(referenceA.value());
  }

  /** The stays, in the order of time. */
  List<TemperaturePoint> points() {
    return points;
  }

  /** T_ref, degC. */
  double referenceDegC() {
    return referenceDegC;
  }

  /** I_ref, A: the mean over the visits to T_ref, else fitted. */
  Estimate referenceA() {
    return referenceA;
  }

  /** The visits to T_ref, in the order of time; empty if I_ref is fitted. */
  List<TemperaturePoint> visits() {
    return visits;
  }
}
